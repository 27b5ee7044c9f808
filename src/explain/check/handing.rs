//! Takes a week to the re-check, and hands its verdict out.

use std::collections::BTreeSet;

use crate::base::{ExerciseId, Place, RoleId, RuleId};
use crate::explain::answer::Plan;
use crate::explain::glossary::{Glossary, constraint_path, rule_path};
use crate::explain::reason::ruling;
use crate::infer::Setting;
use crate::plan::recheck::{Illegal, Miss, Verdict, Wrong, recheck};
use crate::plan::{Asked, Dosed, Item, Loads, Refusal, Spot, TwoDoses, Week, place};

use super::{Lack, Placing, Recheck, Says, Wrongly};

/// Takes the items of a plan back to what the re-check reads; the exercise that is not known, if one is not.
pub(crate) fn items_of(
    plan: &Plan,
    find: impl Fn(&str) -> Option<usize>,
) -> Result<Vec<Vec<Item>>, ExerciseId> {
    let mut days = Vec::new();
    for (day, session) in plan.sessions.iter().enumerate() {
        let mut items = Vec::new();
        for item in &session.items {
            items.push(Item {
                day,
                slot: item.slot,
                part: item.part.clone(),
                role: item.role.clone(),
                exercise: find(item.exercise.as_str()).ok_or_else(|| item.exercise.clone())?,
                dosed: Dosed {
                    dose: item.dose.clone(),
                    rule: item.dose_rule.clone(),
                    sets: item.sets,
                    reps: item.reps,
                    percent: item.percent,
                    asked: item
                        .load
                        .as_ref()
                        .and_then(|load| load.asked)
                        .or(item.percent),
                    caps: item.caps.clone(),
                    trims: item.trims.clone(),
                    steps: item.load_steps.clone(),
                    rest_seconds: item.rest_seconds,
                    seconds: item.seconds,
                },
            });
        }
        days.push(items);
    }
    Ok(days)
}

/// The rules that make a dose what it is, each with its kind.
pub(crate) fn dosing<'d>(
    (rule, trims, steps, caps): (&'d RuleId, &'d [RuleId], &'d [RuleId], &'d [RuleId]),
) -> impl Iterator<Item = (&'static str, &'d RuleId)> {
    let of = |kind: &'static str, rules: &'d [RuleId]| rules.iter().map(move |id| (kind, id));
    let dose = of("dose", std::slice::from_ref(rule));
    dose.chain(of("trim", trims))
        .chain(of("load-step", steps))
        .chain(of("cap", caps))
}

/// Hands verdicts out.
pub(crate) struct Handing<'a> {
    pub(crate) setting: &'a Setting<'a>,
    pub(crate) week: &'a Week<'a>,
    pub(crate) loads: &'a Loads,
    pub(crate) glossary: &'a Glossary,
}

impl Handing<'_> {
    /// The verdict as it is handed out.
    pub(crate) fn out(&self, verdict: &Verdict) -> Recheck {
        Recheck {
            broken: verdict.broken.iter().map(|miss| self.lack(miss)).collect(),
            wrong: verdict
                .illegal
                .iter()
                .map(|illegal| self.wrongly(illegal))
                .collect(),
            lacks: verdict.misses.iter().map(|miss| self.lack(miss)).collect(),
            missed: verdict.missed.into(),
            worth: verdict.worth,
            tie: verdict.tie,
        }
    }

    /// What a week comes to that anybody put together.
    ///
    /// # Errors
    ///
    /// [`TwoDoses`] where two dose rules are left for an item.
    pub(crate) fn placed(&self, week: &[Vec<Placing>]) -> Result<Recheck, TwoDoses> {
        let mut days = Vec::new();
        let mut refused = Vec::new();
        // The place that each item had before what may not stand was taken out.
        let mut kept: Vec<Vec<usize>> = Vec::new();
        for (day, session) in week.iter().enumerate() {
            let (mut items, mut places) = (Vec::new(), Vec::new());
            for (at, placing) in session.iter().enumerate() {
                match self.item(day, placing)? {
                    Ok(item) => {
                        items.push(item);
                        places.push(at);
                    }
                    Err((what, says)) => refused.push(Wrongly {
                        day: self.day(Some(day)),
                        at: Some(at),
                        what,
                        says,
                    }),
                }
            }
            days.push(items);
            kept.push(places);
        }
        let mut verdict = recheck(self.setting, self.week, self.loads, &days);
        for illegal in &mut verdict.illegal {
            if let (Some(day), Some(at)) = (illegal.day, illegal.at) {
                illegal.at = kept.get(day).and_then(|places| places.get(at)).copied();
            }
        }
        let mut found = self.out(&verdict);
        found.wrong.splice(0..0, refused);
        Ok(found)
    }

    fn item(
        &self,
        day: usize,
        placing: &Placing,
    ) -> Result<Result<Item, (String, Vec<Says>)>, TwoDoses> {
        let Placing {
            part,
            role,
            exercise,
        } = placing;
        let none = |what: String| Ok(Err((what, Vec::new())));
        let Some(at) = self.setting.graph.ids.find(exercise) else {
            return none(format!("the rules have no exercise `{exercise}`"));
        };
        let role = RoleId::new(role).ok();
        let Some(role) = role.filter(|role| self.setting.pack.roles.contains_key(role)) else {
            return none(format!("the rules have no role `{}`", placing.role));
        };
        let parts = self.week.days.get(day).map(|held| &held.layout.parts);
        let slot = parts.and_then(|parts| parts.iter().position(|slot| slot.part.as_str() == part));
        let Some(slot) = slot else {
            let what = format!("the day has no part `{part}`");
            let id = &self.week.id;
            return Ok(Err((
                what,
                vec![self.says(format!("layouts.{id}"), &id.place)],
            )));
        };
        let spot = Spot {
            day,
            slot,
            exercise: at,
            role: &role,
        };
        let placed = place(self.setting, self.week, self.loads, spot)?;
        Ok(placed.map_err(|against| self.refused(&against, placing)))
    }

    fn day(&self, day: Option<usize>) -> Option<u8> {
        day.and_then(|day| self.week.days.get(day))
            .map(|day| day.layout.day.value)
    }

    fn says(&self, path: String, place: &Place) -> Says {
        let cited = self.glossary.cited(&path);
        Says {
            because: cited.map_or_else(String::new, |item| item.because.clone()),
            place: place.clone(),
            path,
        }
    }

    fn lack(&self, miss: &Miss) -> Lack {
        let ruling = ruling(miss);
        Lack {
            because: self.says(ruling.to_string(), &miss.place).because,
            place: miss.place.clone(),
            level: miss.yields.into(),
            units: miss.units,
            lack: miss.lack,
            day: self.day(miss.day),
            ruling,
        }
    }

    /// What is against a line where it is taken to stand.
    pub(crate) fn against(
        &self,
        against: &[Refusal],
        placing: &Placing,
        day: u8,
        at: usize,
    ) -> Wrongly {
        let (what, says) = self.refused(against, placing);
        Wrongly {
            day: Some(day),
            at: Some(at),
            what,
            says,
        }
    }

    /// That the lines of a day are not in the order of its parts.
    pub(crate) fn out_of_order(&self, day: u8) -> Wrongly {
        let id = &self.week.id;
        Wrongly {
            day: Some(day),
            at: None,
            what: String::from("a line stands behind one of a later part of the day"),
            says: vec![self.says(format!("layouts.{id}"), &id.place)],
        }
    }

    fn wrongly(&self, illegal: &Illegal) -> Wrongly {
        let (what, says) = match &illegal.why {
            Wrong::NoCandidate(against) => {
                let placing = Placing::new("", "", "");
                let (what, says) = self.refused(against, &placing);
                (format!("it may not stand there: {what}"), says)
            }
            Wrong::Otherwise(item) => (in_words(illegal), self.dose_of(item)),
            Wrong::Order | Wrong::NoSlot | Wrong::Days { .. } => {
                let id = &self.week.id;
                let says = self.says(format!("layouts.{id}"), &id.place);
                (in_words(illegal), vec![says])
            }
            _ => (in_words(illegal), Vec::new()),
        };
        Wrongly {
            day: self.day(illegal.day),
            at: illegal.at,
            what,
            says,
        }
    }

    /// The rules that make an item's dose what it is.
    fn dose_of(&self, item: &Item) -> Vec<Says> {
        let dosed = &item.dosed;
        let rules = dosing((&dosed.rule, &dosed.trims, &dosed.steps, &dosed.caps));
        rules
            .map(|(kind, id)| self.says_rule(kind, id.as_str()))
            .collect()
    }

    /// A rule by its kind and id.
    pub(crate) fn says_rule(&self, kind: &str, id: &str) -> Says {
        let path = rule_path(kind, id);
        let cited = self.glossary.cited(&path);
        let place = cited.map_or_else(Place::unknown, |item| item.place.clone());
        self.says(path, &place)
    }

    /// What is against something, in words, and what in the rules says so.
    pub(crate) fn refused(&self, against: &[Refusal], placing: &Placing) -> (String, Vec<Says>) {
        let (mut words, mut all) = (Vec::new(), Vec::new());
        let pack = self.setting.pack;
        let role = || {
            let key = RoleId::new(&placing.role).ok();
            let key = key.and_then(|key| pack.roles.get_key_value(&key).map(|(key, _)| key));
            key.map(|key| self.says(format!("roles.{key}"), &key.place))
        };
        let part = || {
            let mut keys = pack.parts.keys();
            let key = keys.find(|key| key.as_str() == placing.part);
            key.map(|key| self.says(format!("parts.{key}"), &key.place))
        };
        let exercise = || {
            let held = self.setting.graph.ids.find(&placing.exercise);
            let held = held.and_then(|at| self.setting.graph.exercises.get(at));
            held.map(|held| {
                let path = self.glossary.exercise_path(held.id.as_str());
                self.says(path, &held.place)
            })
        };
        for refusal in against {
            match refusal {
                Refusal::Unknown => {
                    words.push("there is no such exercise, role or part".to_owned())
                }
                Refusal::Asks(asked) => {
                    words.push("the case does not have what it asks for".to_owned());
                    all.extend(asked.iter().map(|asked| match asked {
                        Asked::Exercise(id) => {
                            self.says(self.glossary.exercise_path(id.as_str()), &id.place)
                        }
                        Asked::Constraint(id) => self.says(constraint_path(id.as_str()), &id.place),
                    }));
                }
                Refusal::Excluded(id) => {
                    words.push("a rule rules it out".to_owned());
                    all.push(self.says(rule_path("exclude", id.as_str()), &id.place));
                }
                Refusal::NotItsRole => {
                    words.push("the exercise does not take the role".to_owned());
                    all.extend(exercise());
                }
                Refusal::NotInPart => {
                    words.push("the part does not take the role".to_owned());
                    all.extend(part());
                }
                Refusal::NotForPart => {
                    words.push("the part does not take the exercise".to_owned());
                    all.extend(part());
                }
                Refusal::Gate => {
                    words.push("the role is not open to it in this case".to_owned());
                    all.extend(role());
                }
                Refusal::NoDose => words.push("no rule doses it".to_owned()),
                Refusal::TooHeavy => {
                    words.push("its load is more than can be done in it".to_owned());
                }
                Refusal::TooLight(id) => {
                    words.push("its load would be too light".to_owned());
                    all.push(self.says(rule_path("least-load", id.as_str()), &id.place));
                }
            }
        }
        // Several rules may be against it in the same words, and one in several places.
        once(&mut words, |words| words);
        once(&mut all, |says: &Says| &says.path);
        (words.join("; "), all)
    }
}

/// Keeps the first of all that have the same key.
fn once<T>(all: &mut Vec<T>, key: impl Fn(&T) -> &String) {
    let mut seen = BTreeSet::new();
    all.retain(|one| seen.insert(key(one).clone()));
}

fn in_words(illegal: &Illegal) -> String {
    match &illegal.why {
        Wrong::Days { asked, given } => format!("the layout has {asked} days, the week {given}"),
        Wrong::NoSlot => String::from("the day has no such part"),
        Wrong::Order => String::from("it stands after an item of a later part"),
        Wrong::Twice => String::from("the session has the exercise already"),
        Wrong::NoCandidate(_) => String::from("it may not stand there"),
        Wrong::Otherwise(item) => {
            let load = item.dosed.percent.map_or_else(String::new, |(low, high)| {
                format!(" at {low} to {high} percent")
            });
            format!(
                "by the rules it would be {} sets of {}{load}",
                item.dosed.sets, item.dosed.reps
            )
        }
        Wrong::TwoDoses(two) => format!("two rules dose it: `{}` and `{}`", two.one, two.other),
        Wrong::TooLarge { kind, rule } => {
            format!("a number of `rules.{kind}.{rule}` is too large to be counted")
        }
        Wrong::Dangling { kind, rule } => {
            format!("`rules.{kind}.{rule}` names what the rules do not have")
        }
        Wrong::HelpWorth { speak } => {
            format!("{speak} rules say what help is worth, where one must")
        }
        Wrong::SumTooLarge => String::from("the sums over all rules are too large to be counted"),
    }
}
