//! All weeks of a pack, one after the other.
//!
//! What a rule about the week asks is laid out in tables beforehand: what each session adds to each
//! sum, what each total of a sum comes to, and which sessions meet which on another day. The plain
//! reading, item by item and rule by rule, is in `week`; a test holds this one against it.

use std::collections::BTreeMap;

use super::Oracle;
use super::best::{Best, Session, better, placed};
use super::place::Item;
use super::rule_text::Counted;
use super::session::{outside, units};
use super::text::Yields;
use super::week::points_of;

/// What is missed of hard rules, and on the levels last, middle, first.
pub type Missed = [i64; 4];

fn at(yields: Yields) -> usize {
    match yields {
        Yields::Never => 0,
        Yields::Last => 1,
        Yields::Middle => 2,
        Yields::First => 3,
    }
}

fn add(missed: &mut Missed, more: &Missed) {
    missed
        .iter_mut()
        .zip(more)
        .for_each(|(sum, units)| *sum += units);
}

/// A sum over the week.
struct Sum {
    /// By day and session, from the least of the day on.
    amounts: Vec<Vec<usize>>,
    /// By total: what is missed, and worth.
    values: Vec<(Missed, i64)>,
}

/// A rule about two days: by day, session and other day, which items there it meets, as a set.
struct Meeting {
    yields: Yields,
    by: Vec<Vec<Vec<u128>>>,
}

/// A rule about exercises that come again: by day and session, its exercises as a set.
struct Again {
    yields: Yields,
    by: Vec<Vec<u64>>,
    /// Units of what two days share, or of how often one is used in all.
    kind: Kind,
}

enum Kind {
    Shared(i64),
    Used(Option<i64>, Option<i64>),
}

/// A rule about what follows on a later day: by day and session, for each item that waits, by later
/// day, what would do.
struct Waits {
    yields: Yields,
    by: Vec<Vec<Vec<Vec<u128>>>>,
}

/// The tables of a pack.
pub struct Tables {
    /// By day and session: the items as a set.
    sets: Vec<Vec<u128>>,
    sums: Vec<Sum>,
    apart: Vec<Meeting>,
    again: Vec<Again>,
    waits: Vec<Waits>,
}

impl Oracle {
    /// The best of all weeks that are made of these sessions; what it misses, is worth and measures
    /// is what the plain reading says too.
    pub fn best_week(
        &self,
        candidates: &[Vec<Item>],
        sessions: &[Vec<Session<'_>>],
    ) -> Option<Best> {
        if sessions.iter().any(Vec::is_empty) {
            return None;
        }
        let tables = self.tables(candidates, sessions);
        let mut best: Option<Best> = None;
        let mut week = vec![0; sessions.len()];
        loop {
            let (missed, worth, tie) = tables.verdict(sessions, &week);
            let levels = [missed[1], missed[2], missed[3]];
            let as_good = best
                .as_ref()
                .is_none_or(|held| (levels, -worth) <= (held.missed, -held.worth));
            if missed[0] == 0 && as_good {
                let chosen = week.iter().zip(sessions);
                let this = Best {
                    missed: levels,
                    worth,
                    tie,
                    week: chosen.map(|(at, list)| placed(&list[*at].items)).collect(),
                    equals: 1,
                    tied: 1,
                };
                best = Some(match best.take() {
                    Some(held) => better(held, this),
                    None => this,
                });
            }
            // The next week: the last day counts fastest.
            let Some(day) = (0..week.len())
                .rev()
                .find(|day| week[*day] + 1 < sessions[*day].len())
            else {
                break;
            };
            week[day] += 1;
            week[day + 1..].fill(0);
        }
        if let Some(best) = &best {
            let plain = self.evaluate(&best.week);
            assert_eq!(plain.hard_broken, Vec::<String>::new());
            assert_eq!(
                (plain.missed, plain.worth, plain.tie),
                (best.missed, best.worth, best.tie)
            );
        }
        best
    }

    /// Lays out what each session adds and meets.
    pub fn tables(&self, candidates: &[Vec<Item>], sessions: &[Vec<Session<'_>>]) -> Tables {
        assert!(candidates.iter().all(|list| list.len() <= 128));
        let place = |day: usize, item: &Item| {
            let same = |other: &Item| std::ptr::eq(item, other);
            candidates[day].iter().position(same).unwrap()
        };
        let places: Vec<Vec<Vec<usize>>> = sessions
            .iter()
            .enumerate()
            .map(|(day, list)| {
                let of = |session: &Session<'_>| {
                    let items = session.items.iter();
                    items.map(|item| place(day, item)).collect()
                };
                list.iter().map(of).collect()
            })
            .collect();
        let set = |items: &Vec<usize>| items.iter().fold(0, |set, at| set | 1u128 << at);
        Tables {
            sets: places
                .iter()
                .map(|list| list.iter().map(set).collect())
                .collect(),
            sums: self.sums(sessions),
            apart: self.meetings(candidates, &places),
            again: self.agains(sessions),
            waits: self.waits(candidates, sessions),
        }
    }

    fn sums(&self, sessions: &[Vec<Session<'_>>]) -> Vec<Sum> {
        let mut sums = Vec::new();
        let mut lay = |amount: &dyn Fn(&[&Item]) -> i64, value: &dyn Fn(i64) -> (Missed, i64)| {
            let all: Vec<Vec<i64>> = sessions
                .iter()
                .map(|list| list.iter().map(|session| amount(&session.items)).collect())
                .collect();
            let ends = |ends: fn(&Vec<i64>) -> i64| all.iter().map(ends).collect::<Vec<_>>();
            let low = ends(|list| *list.iter().min().unwrap());
            let high = ends(|list| *list.iter().max().unwrap());
            let above = |list: &Vec<i64>, low: &i64| {
                let each = list.iter().map(|one| usize::try_from(one - low).unwrap());
                each.collect()
            };
            sums.push(Sum {
                amounts: all
                    .iter()
                    .zip(&low)
                    .map(|(list, low)| above(list, low))
                    .collect(),
                values: (low.iter().sum::<i64>()..=high.iter().sum())
                    .map(value)
                    .collect(),
            });
        };
        let lack = |yields: Yields, units: i64| {
            let mut missed = Missed::default();
            missed[at(yields)] = units;
            (missed, 0)
        };
        let rules = &self.pack.rules;
        for rule in rules.count.values().filter(|rule| rule.per == "week") {
            let (least, most) = self.count_bounds(rule);
            lay(
                &|items| {
                    let on = |item: &&&Item| self.on_day(rule.on.as_ref(), item.place.day);
                    let items: Vec<&Item> = items.iter().filter(on).copied().collect();
                    self.counted(&items, &rule.what, rule.counted_in.unwrap_or_default())
                },
                &|total| {
                    lack(
                        rule.yields,
                        outside(total, least, most, rule.unit.unwrap_or(1)),
                    )
                },
            );
        }
        for rule in rules.floor.values() {
            let factors = rule.scaled_by.as_deref().unwrap_or(&[]);
            let bound = self.scaled(rule.points_at_least, factors);
            lay(&|items| points_of(items, &rule.quality), &|total| {
                lack(rule.yields, units(bound - total, rule.unit.unwrap_or(1)))
            });
        }
        for rule in rules.proportion.values() {
            let counted_in = rule.counted_in.unwrap_or(Counted::Items);
            let unit = 100 * rule.unit.unwrap_or(1);
            for (percent, sign) in [(rule.percent_at_most, 1), (rule.percent_at_least, -1)] {
                let Some(percent) = percent else { continue };
                lay(
                    &|items| {
                        let (of, to) = (
                            self.counted(items, &rule.of, counted_in),
                            self.counted(items, &rule.to, counted_in),
                        );
                        sign * (100 * of - percent * to)
                    },
                    &|above| lack(rule.yields, units(above, unit)),
                );
            }
        }
        for rule in rules.kept.values() {
            for wanted in self.wanted_again(rule) {
                let is_it = |item: &&&Item| item.exercise == wanted && self.is(item, &rule.what);
                lay(
                    &|items| i64::try_from(items.iter().filter(is_it).count()).unwrap(),
                    &|times| lack(rule.yields, i64::from(times == 0)),
                );
            }
        }
        for rule in rules.shift.values() {
            let counted_in = rule.counted_in.unwrap_or_default();
            let unit = 100 * rule.unit.unwrap_or(1);
            let (least, most) = self.after_shift(rule);
            for (percent, sign) in [(most, 1), (least, -1)] {
                let Some(percent) = percent else { continue };
                lay(
                    &|items| {
                        let of = 100 * self.counted(items, &rule.of, counted_in);
                        sign * (of - percent * self.counted(items, &rule.to, counted_in))
                    },
                    &|beyond| lack(rule.yields, units(beyond, unit)),
                );
            }
        }
        for rule in rules.stress.values().filter(|rule| rule.per == "week") {
            lay(
                &|items| {
                    let on = |item: &&&Item| self.on_day(rule.on.as_ref(), item.place.day);
                    let on = items.iter().filter(on);
                    on.filter_map(|item| item.stress.get(&rule.of)).sum()
                },
                &|total| {
                    lack(
                        rule.yields,
                        units(total - rule.at_most, rule.unit.unwrap_or(1)),
                    )
                },
            );
        }
        for rule in rules.help_worth.values() {
            for (at, pair) in self.facts.focus.iter().enumerate() {
                lay(
                    &|items| items.iter().map(|item| item.effects[at]).sum(),
                    &|total| {
                        let value = self.pack.tables[&rule.table].value(total);
                        (Missed::default(), self.facts.demand[pair] * value)
                    },
                );
            }
        }
        for rule in rules.quality_worth.values() {
            for quality in &rule.qualities {
                let from = self.worth_from(rule, quality);
                lay(&|items| points_of(items, quality), &|total| {
                    let value = self.pack.tables[&rule.table].value(total - from);
                    (Missed::default(), 100 * value)
                });
            }
        }
        sums
    }

    fn meetings(&self, candidates: &[Vec<Item>], places: &[Vec<Vec<usize>>]) -> Vec<Meeting> {
        let rules = self.pack.rules.apart.values();
        let meeting = |rule: &super::rule_text::Apart| {
            let of_items = |what_day: usize, from_day: usize| -> Vec<u128> {
                let (one, other) = (self.days[what_day].day, self.days[from_day].day);
                let near = what_day != from_day && self.near(rule, one, other);
                let met = |what: &Item| {
                    let from = candidates[from_day].iter().enumerate();
                    let meets = from.filter(|(_, from)| near && self.meet(rule, what, from));
                    meets.fold(0, |set, (at, _)| set | 1u128 << at)
                };
                candidates[what_day].iter().map(met).collect()
            };
            let by = places.iter().enumerate().map(|(day, list)| {
                let days: Vec<Vec<u128>> = (0..places.len())
                    .map(|other| of_items(day, other))
                    .collect();
                let of = |items: &Vec<usize>| {
                    let joined = |sets: &Vec<u128>| items.iter().fold(0, |all, at| all | sets[*at]);
                    days.iter().map(joined).collect()
                };
                list.iter().map(of).collect()
            });
            Meeting {
                yields: rule.yields,
                by: by.collect(),
            }
        };
        rules.map(meeting).collect()
    }

    fn agains(&self, sessions: &[Vec<Session<'_>>]) -> Vec<Again> {
        let names: BTreeMap<&String, usize> = self.exercises.keys().zip(0..64).collect();
        assert_eq!(names.len(), self.exercises.len());
        let by = |what: &super::text::Selector| {
            let of = |session: &Session<'_>| {
                let meant = session.items.iter().filter(|item| self.is(item, what));
                meant.fold(0, |set, item| set | 1u64 << names[&item.exercise])
            };
            let of_day = |list: &Vec<Session<'_>>| list.iter().map(of).collect();
            sessions.iter().map(of_day).collect()
        };
        let rules = &self.pack.rules;
        let differ = rules.differ.values().map(|rule| Again {
            yields: rule.yields,
            by: by(&rule.what),
            kind: Kind::Shared(rule.shared_at_most),
        });
        let repeat = rules.repeat.values().map(|rule| Again {
            yields: rule.yields,
            by: by(&rule.what),
            kind: Kind::Used(rule.at_least_if_used, rule.at_most),
        });
        differ.chain(repeat).collect()
    }

    fn waits(&self, candidates: &[Vec<Item>], sessions: &[Vec<Session<'_>>]) -> Vec<Waits> {
        let in_week = self.pack.rules.followed.values();
        let rules = in_week.filter(|rule| rule.within == "week");
        let waits = |rule: &super::rule_text::Followed| {
            let of = |day: usize, session: &Session<'_>| {
                let open = session.items.iter().enumerate().filter(|(at, item)| {
                    self.is(item, &rule.what)
                        && !self.followed_here(rule, item, &session.items[at + 1..])
                });
                let answers = |item: &Item| {
                    let later = candidates.iter().enumerate();
                    let later = later.map(|(next, list)| {
                        let held = list.iter().enumerate();
                        let held =
                            held.filter(|(_, other)| next > day && self.follows(rule, item, other));
                        held.fold(0, |set, (at, _)| set | 1u128 << at)
                    });
                    later.collect()
                };
                open.map(|(_, item)| answers(item)).collect()
            };
            let by = sessions.iter().enumerate();
            Waits {
                yields: rule.yields,
                by: by
                    .map(|(day, list)| list.iter().map(|session| of(day, session)).collect())
                    .collect(),
            }
        };
        rules.map(waits).collect()
    }
}

impl Tables {
    /// What one week comes to: units missed of hard rules and level by level, worth, tie.
    pub fn verdict(&self, sessions: &[Vec<Session<'_>>], week: &[usize]) -> (Missed, i64, i64) {
        let (mut missed, mut worth, mut tie) = (Missed::default(), 0, 0);
        for (list, at) in sessions.iter().zip(week) {
            let session = &list[*at];
            missed[1..]
                .iter_mut()
                .zip(session.tally.missed)
                .for_each(|(sum, units)| *sum += units);
            worth += session.worth;
            tie += session.tie;
        }
        for sum in &self.sums {
            let each = sum.amounts.iter().zip(week);
            let (lacks, value) = &sum.values[each.map(|(of_day, at)| of_day[*at]).sum::<usize>()];
            add(&mut missed, lacks);
            worth += value;
        }
        for rule in &self.apart {
            let mut met = 0;
            for one in 0..week.len() {
                for other in one + 1..week.len() {
                    let meets = |from: usize, to: usize| {
                        rule.by[from][week[from]][to] & self.sets[to][week[to]] != 0
                    };
                    met += i64::from(meets(one, other) || meets(other, one));
                }
            }
            missed[at(rule.yields)] += met;
        }
        for rule in &self.again {
            let of_day = |day: usize| rule.by[day][week[day]];
            missed[at(rule.yields)] += match rule.kind {
                Kind::Shared(most) => {
                    let mut units = 0;
                    for one in 0..week.len() {
                        for other in one + 1..week.len() {
                            let shared = (of_day(one) & of_day(other)).count_ones();
                            units += (i64::from(shared) - most).max(0);
                        }
                    }
                    units
                }
                Kind::Used(least, most) => {
                    let all = (0..week.len()).fold(0, |all, day| all | of_day(day));
                    let used = |bit: u32| {
                        let days = (0..week.len()).filter(|day| of_day(*day) >> bit & 1 == 1);
                        i64::try_from(days.count()).unwrap()
                    };
                    let each = (0..u64::BITS).filter(|bit| all >> bit & 1 == 1);
                    each.map(|bit| outside(used(bit), least, most, 1)).sum()
                }
            };
        }
        for rule in &self.waits {
            for day in 0..week.len() {
                for answers in &rule.by[day][week[day]] {
                    let answered =
                        (day + 1..week.len()).any(|to| answers[to] & self.sets[to][week[to]] != 0);
                    missed[at(rule.yields)] += i64::from(!answered);
                }
            }
        }
        (missed, worth, tie)
    }
}
