//! The best week by trying all weeks.

use super::place::Item;
use super::session::Tally;
use super::{Oracle, Placed, Verdict};

/// A session with what it misses and is worth by itself.
#[derive(Debug)]
pub struct Session<'a> {
    pub items: Vec<&'a Item>,
    pub tally: Tally,
    pub worth: i64,
    pub tie: i64,
}

/// The best week, and how many weeks were tried.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Best {
    pub missed: [i64; 3],
    pub worth: i64,
    pub tie: i64,
    pub week: Vec<Vec<Placed>>,
    /// How many weeks miss as little and are worth as much.
    pub equals: u64,
    /// How many of these have the least tie measure too.
    pub tied: u64,
}

pub fn placed(items: &[&Item]) -> Vec<Placed> {
    items
        .iter()
        .map(|item| {
            (
                item.place.part.clone(),
                item.place.role.clone(),
                item.exercise.clone(),
            )
        })
        .collect()
}

impl Oracle {
    fn session<'a>(&self, day: usize, items: Vec<&'a Item>) -> Session<'a> {
        let mut tally = self.session_missed(day, &items);
        tally.join(&self.order_missed(&items));
        Session {
            tally,
            worth: self.session_worth(&items),
            tie: self.tie(&items),
            items,
        }
    }

    /// The verdict on sessions, one for each day of the layout.
    pub fn verdict(&self, sessions: &[&Session<'_>]) -> Verdict {
        let week: Vec<Vec<&Item>> = sessions
            .iter()
            .map(|session| session.items.clone())
            .collect();
        let mut tally = self.week_missed(&week);
        sessions
            .iter()
            .for_each(|session| tally.join(&session.tally));
        let own: i64 = sessions.iter().map(|session| session.worth).sum();
        Verdict {
            hard_broken: tally.hard,
            missed: tally.missed,
            missed_by_rule: tally.by_rule,
            worth: own + self.week_worth(&week),
            tie: sessions.iter().map(|session| session.tie).sum(),
        }
    }

    /// What a week that somebody put together breaks, misses and is worth, its order as given.
    ///
    /// What may not stand where it stands is named under `hard_broken` and counts for nothing else.
    pub fn evaluate(&self, week: &[Vec<Placed>]) -> Verdict {
        assert_eq!(week.len(), self.days.len(), "one list for each day");
        let mut against: Vec<String> = Vec::new();
        let mut held: Vec<Vec<Item>> = Vec::new();
        for (day, list) in week.iter().enumerate() {
            let mut items = Vec::new();
            let order = |part: &String| {
                self.days[day]
                    .parts
                    .iter()
                    .position(|slot| slot.part == *part)
            };
            let parts: Vec<Option<usize>> = list.iter().map(|(part, _, _)| order(part)).collect();
            if parts.contains(&None) || parts.windows(2).any(|two| two[0] > two[1]) {
                against.push(String::from("order of parts"));
            }
            for (at, (part, role, exercise)) in list.iter().enumerate() {
                if list[..at].iter().any(|(_, _, other)| other == exercise) {
                    against.push(String::from("twice in a session"));
                }
                // What stands in a part that the day does not have stands nowhere.
                if parts[at].is_none() {
                    continue;
                }
                match self.item(day, part, role, exercise) {
                    Ok(item) => items.push(item),
                    Err(why) => against.extend(why),
                }
            }
            held.push(items);
        }
        let sessions: Vec<Session<'_>> = held
            .iter()
            .enumerate()
            .map(|(day, items)| self.session(day, items.iter().collect()))
            .collect();
        let mut verdict = self.verdict(&sessions.iter().collect::<Vec<_>>());
        verdict.hard_broken.extend(against);
        verdict.hard_broken.sort();
        verdict.hard_broken.dedup();
        verdict
    }

    /// All candidates of a day, in the order of parts, exercises and roles.
    pub fn candidates(&self, day: usize) -> Vec<Item> {
        let mut all = Vec::new();
        for slot in &self.days[day].parts {
            for (id, exercise) in &self.exercises {
                // What has a role is asked again, with all else; this only saves time.
                for role in self
                    .pack
                    .roles
                    .keys()
                    .filter(|role| exercise.roles.contains(role))
                {
                    all.extend(self.item(day, &slot.part, role, id));
                }
            }
        }
        all
    }

    /// All sets of candidates that fit the slots; none where there are more than can be tried.
    fn sets<'a>(
        &self,
        day: usize,
        candidates: &'a [Item],
        most: usize,
    ) -> Option<Vec<Vec<&'a Item>>> {
        let mut chosen: Vec<Vec<&Item>> = vec![Vec::new()];
        for item in candidates {
            let slot = self.days[day]
                .parts
                .iter()
                .find(|slot| slot.part == item.place.part)
                .unwrap();
            for at in 0..chosen.len() {
                let in_part = chosen[at]
                    .iter()
                    .filter(|held| held.place.part == slot.part)
                    .count();
                let free = chosen[at].iter().all(|held| held.exercise != item.exercise);
                if free && i64::try_from(in_part).unwrap() < slot.at_most {
                    let mut longer = chosen[at].clone();
                    longer.push(item);
                    chosen.push(longer);
                }
            }
            if chosen.len() > most {
                return None;
            }
        }
        Some(chosen)
    }

    /// All sets of candidates that fit the slots, in every order that comes to something of its own,
    /// the first by ids of those that come to the same; what breaks a hard rule whose scope is a
    /// session is left out.
    pub fn sessions<'a>(&self, day: usize, candidates: &'a [Item]) -> Vec<Session<'a>> {
        let mut all = Vec::new();
        for set in self.sets(day, candidates, usize::MAX).unwrap() {
            let of_set = self.session_missed(day, &set);
            if !of_set.hard.is_empty() {
                continue;
            }
            let tie = self.tie(&set);
            let mut known = Vec::new();
            for items in orders(&set) {
                let of_order = self.order_missed(&items);
                let worth = self.session_worth(&items);
                let comes_to = (of_order.missed, worth, self.open(&items));
                if of_order.hard.is_empty() && !known.contains(&comes_to) {
                    known.push(comes_to);
                    let mut tally = of_set.clone();
                    tally.join(&of_order);
                    all.push(Session {
                        items,
                        tally,
                        worth,
                        tie,
                    });
                }
            }
        }
        all
    }

    /// For each rule that looks at later days: the items that nothing in the session follows.
    fn open(&self, items: &[&Item]) -> Vec<Vec<String>> {
        let rules = self.pack.rules.followed.values();
        let of = |rule: &super::rule_text::Followed| {
            let mut open: Vec<String> = (0..items.len())
                .filter(|at| {
                    self.is(items[*at], &rule.what)
                        && !self.followed_here(rule, items[*at], &items[at + 1..])
                })
                .map(|at| items[at].exercise.clone())
                .collect();
            open.sort();
            open
        };
        rules.filter(|rule| rule.within == "week").map(of).collect()
    }

    /// The candidates of every day.
    pub fn all_candidates(&self) -> Vec<Vec<Item>> {
        (0..self.days.len())
            .map(|day| self.candidates(day))
            .collect()
    }

    /// The sessions of every day; none where some day has more sets of candidates than all weeks
    /// can be tried of.
    pub fn all_sessions<'a>(
        &self,
        candidates: &'a [Vec<Item>],
        most_sets: usize,
    ) -> Option<Vec<Vec<Session<'a>>>> {
        let days = || candidates.iter().enumerate();
        if days().any(|(day, list)| self.sets(day, list, most_sets).is_none()) {
            return None;
        }
        Some(days().map(|(day, list)| self.sessions(day, list)).collect())
    }

    /// How many weeks there are to choose from, in as far as they can be tried.
    pub fn count_weeks(&self, most_sets: usize) -> Option<u64> {
        let candidates = self.all_candidates();
        let sessions = self.all_sessions(&candidates, most_sets)?;
        Some(sessions.iter().map(|list| list.len() as u64).product())
    }

    /// The best of all weeks, and how many weeks there are to choose from.
    pub fn best(&self) -> (Option<Best>, u64) {
        let candidates = self.all_candidates();
        let sessions = self.all_sessions(&candidates, usize::MAX).unwrap();
        let count = sessions.iter().map(|list| list.len() as u64).product();
        (self.best_week(&candidates, &sessions), count)
    }
}

/// The better of two, and how many were as good.
pub fn better(held: Best, other: Best) -> Best {
    let equal = (held.missed, held.worth) == (other.missed, other.worth);
    let equals = held.equals + other.equals;
    let tied = if held.tie == other.tie {
        held.tied + other.tied
    } else {
        0
    };
    let mut best = if rank(&other) < rank(&held) {
        other
    } else {
        held
    };
    if equal {
        best.equals = equals;
        best.tied = best.tied.max(tied);
    }
    best
}

/// Exercise, part and role.
type Ids<'a> = (&'a str, &'a str, &'a str);

/// Fewest missed, most worth, least tie, then the first by ids: by days, exercise before part and role.
fn rank(best: &Best) -> ([i64; 3], i64, i64, Vec<Vec<Ids<'_>>>) {
    let week = best
        .week
        .iter()
        .map(|day| {
            day.iter()
                .map(|(part, role, exercise)| (exercise.as_str(), part.as_str(), role.as_str()))
                .collect()
        })
        .collect();
    (best.missed, -best.worth, best.tie, week)
}

/// All orders of a session that keep the order of its parts.
fn orders<'a>(set: &[&'a Item]) -> Vec<Vec<&'a Item>> {
    let Some(first) = set.first() else {
        return vec![Vec::new()];
    };
    let (part, rest): (Vec<&Item>, Vec<&Item>) = set
        .iter()
        .copied()
        .partition(|item| item.place.part == first.place.part);
    let mut all = Vec::new();
    for (at, item) in part.iter().enumerate() {
        let mut left = part.clone();
        left.remove(at);
        left.extend(&rest);
        for tail in orders(&left) {
            all.push(std::iter::once(*item).chain(tail).collect());
        }
    }
    all
}
