//! From a week that somebody wrote to what it comes to.

use crate::base::{ExerciseId, PartId, RoleId};

use crate::infer::{Pair, Setting};
use crate::plan::hand::{Standing, Step, Stood, best_step, clashes, disorder};
use crate::plan::recheck::{By, Verdict, judged};
use crate::plan::{Item, Loads, Pool, Week};

use crate::explain::answer::{Missed, Plan};
use crate::explain::check::{Handing, Placing, Wrongly};
use crate::explain::entries::Called;
use crate::explain::glossary::{Glossary, Named};

use super::{Audit, AuditedLine, BestWeek, CauseServed, Change, Changed, Soundness, Wanting};

impl AuditedLine {
    /// A line as it was read, before it stands anywhere.
    pub(crate) const fn read(
        written: String,
        exercise: Called<ExerciseId>,
        dose: (i64, i64),
        percent: Option<(i64, i64)>,
    ) -> Self {
        Self {
            written,
            exercise,
            stands: None,
            dose,
            percent,
            usual: None,
            usual_percent: None,
        }
    }
}

/// What a week that somebody wrote is held against.
pub(crate) struct Auditing<'a> {
    pub(crate) setting: &'a Setting<'a>,
    pub(crate) week: &'a Week<'a>,
    pub(crate) loads: &'a Loads,
    pub(crate) pool: &'a Pool,
    pub(crate) glossary: &'a Glossary,
    /// By day, by line, where it can be taken to stand.
    pub(crate) options: &'a [Vec<Vec<Stood>>],
    /// By day, by line, where it is taken to stand.
    pub(crate) taken: &'a [Vec<Option<usize>>],
    pub(crate) best: Option<&'a Plan>,
}

/// What a week comes to, with its lines as they were read.
pub(crate) fn audit(
    auditing: &Auditing<'_>,
    mut lines: Vec<Vec<AuditedLine>>,
    best: Option<BestWeek>,
    fingerprint: &str,
) -> Audit {
    let Auditing {
        setting,
        week,
        loads,
        options,
        taken,
        ..
    } = auditing;
    let handing = Handing {
        setting,
        week,
        loads,
        glossary: auditing.glossary,
    };
    let standing = Standing::of(options, taken);
    let days = standing.days();
    let verdict = judged(setting, week, &days, By::Everything);
    let mut found = handing.out(&verdict);
    let number = |day: usize| week.days.get(day).map_or(0, |day| day.layout.day.value);
    for (day, of_day) in options.iter().enumerate() {
        for (at, all) in of_day.iter().enumerate() {
            let place = taken.get(day).and_then(|taken| taken.get(at)).copied();
            let stood = place.flatten().and_then(|place| all.get(place));
            let line = lines.get_mut(day).and_then(|lines| lines.get_mut(at));
            let Some(stood) = stood else {
                found.wrong.push(Wrongly {
                    day: Some(number(day)),
                    at: Some(at),
                    what: String::from("no part of the day takes it in any of its roles"),
                    says: Vec::new(),
                });
                continue;
            };
            if !stood.against.is_empty() {
                let exercise = setting.graph.ids.get(stood.item.exercise);
                let placing = Placing::new(
                    stood.item.part.as_str(),
                    stood.item.role.as_str(),
                    exercise.map_or("", |id| id.as_str()),
                );
                let wrong = handing.against(&stood.against, &placing, number(day), at);
                found.wrong.push(wrong);
            }
            if let Some(line) = line {
                line.stands = Some(auditing.stands(&stood.item));
                line.percent = stood.item.dosed.percent;
                line.usual = Some((stood.usual.dosed.sets, stood.usual.dosed.reps));
                line.usual_percent = stood.usual.dosed.percent;
            }
        }
    }
    for (day, of_day) in days.iter().enumerate() {
        if disorder(of_day) > 0 {
            found.wrong.push(handing.out_of_order(number(day)));
        }
    }
    found.wrong.sort_by_key(|wrong| (wrong.day, wrong.at));
    let change = best_step(setting, week, &standing, &auditing.pool.days)
        .and_then(|(step, verdict, clashes)| auditing.change(&days, &step, (&verdict, clashes)));
    let broken = !(found.broken.is_empty() && found.wrong.is_empty());
    let soundness = auditing.soundness(broken, found.missed, found.worth, best.as_ref());
    Audit {
        lifter: setting.case.lifter.clone(),
        days: lines
            .into_iter()
            .enumerate()
            .map(|(day, lines)| (number(day), lines))
            .collect(),
        causes: auditing.causes(&days),
        clashes: clashes(&verdict, &days, standing.against()),
        broken: found.broken,
        wrong: found.wrong,
        lacks: found.lacks,
        missed: found.missed,
        worth: found.worth,
        best,
        change,
        soundness,
        fingerprint: fingerprint.to_owned(),
    }
}

impl Auditing<'_> {
    fn called(&self, exercise: usize) -> Option<Called<ExerciseId>> {
        let held = self.setting.graph.exercises.get(exercise)?;
        Some(Called {
            id: held.id.clone(),
            name: held.name.clone(),
        })
    }

    fn stands(&self, item: &Item) -> (Called<PartId>, Called<RoleId>) {
        (
            Called::new(self.glossary, Named::Part, &item.part),
            Called::new(self.glossary, Named::Role, &item.role),
        )
    }

    fn causes(&self, days: &[Vec<Item>]) -> Vec<CauseServed> {
        let (setting, week) = (self.setting, self.week);
        let of = |(at, pair): (usize, &Pair)| {
            let skill = setting.graph.skills.get(pair.skill)?;
            let cause = setting.graph.causes.get(pair.cause)?;
            let all = days.iter().flatten();
            let mut by: Vec<(i64, usize)> = Vec::new();
            for item in all {
                let effect = item.effect(setting, week, at);
                match by
                    .iter_mut()
                    .find(|(_, exercise)| *exercise == item.exercise)
                {
                    Some((sum, _)) => *sum += effect,
                    None => by.push((effect, item.exercise)),
                }
            }
            by.sort_by_key(|(effect, exercise)| (std::cmp::Reverse(*effect), *exercise));
            let called =
                |(effect, exercise): &(i64, usize)| Some((self.called(*exercise)?, *effect));
            Some(CauseServed {
                skill: skill.clone(),
                cause: Called::new(self.glossary, Named::Cause, cause),
                demand: pair.demand,
                effect: by.iter().map(|(effect, _)| effect).sum(),
                helps: by
                    .iter()
                    .filter(|(effect, _)| *effect > 0)
                    .filter_map(called)
                    .collect(),
                harms: by
                    .iter()
                    .rev()
                    .filter(|(effect, _)| *effect < 0)
                    .filter_map(called)
                    .collect(),
                best: self
                    .best
                    .and_then(|plan| {
                        plan.focus
                            .iter()
                            .find(|worked| worked.cause == *cause && worked.skill == *skill)
                    })
                    .into_iter()
                    .flat_map(|worked| &worked.by)
                    .map(|id| Called::new(self.glossary, Named::Exercise, id))
                    .collect(),
            })
        };
        setting.focus.iter().enumerate().filter_map(of).collect()
    }

    fn change(
        &self,
        days: &[Vec<Item>],
        step: &Step,
        (verdict, clashes): (&Verdict, i64),
    ) -> Option<Change> {
        let held = |day: usize, at: usize| {
            let item = days.get(day).and_then(|items| items.get(at))?;
            self.called(item.exercise)
        };
        let (day, what, item) = match step {
            Step::Drop { day, at } => (*day, Changed::Dropped(held(*day, *at)?), None),
            Step::Dose { day, at, item } => (*day, Changed::Dosed(held(*day, *at)?), Some(item)),
            Step::Swap { day, at, item } => {
                let new = self.called(item.exercise)?;
                (*day, Changed::Swapped(held(*day, *at)?, new), Some(item))
            }
            Step::Add { day, at, item } => {
                let new = self.called(item.exercise)?;
                (*day, Changed::Added(new, *at), Some(item))
            }
            Step::Move { day, at, to } => (*day, Changed::Moved(held(*day, *at)?, *to), None),
        };
        Some(Change {
            day: self.week.days.get(day)?.layout.day.value,
            what,
            stands: item.map(|item| self.stands(item)),
            dose: item.map(|item| (item.dosed.sets, item.dosed.reps)),
            percent: item.and_then(|item| item.dosed.percent),
            clashes,
            missed: verdict.missed.into(),
            worth: verdict.worth,
        })
    }

    fn soundness(
        &self,
        broken: bool,
        missed: Missed,
        worth: i64,
        best: Option<&BestWeek>,
    ) -> Soundness {
        let mut wanting = Vec::new();
        if broken {
            wanting.push(Wanting::Broken);
        }
        if let Some(best) = best {
            for rule in self.setting.pack.sound_weeks.values() {
                let levels = [
                    (
                        "last",
                        missed.last - best.missed.last,
                        &rule.last_more_at_most,
                    ),
                    (
                        "middle",
                        missed.middle - best.missed.middle,
                        &rule.middle_more_at_most,
                    ),
                    (
                        "first",
                        missed.first - best.missed.first,
                        &rule.first_more_at_most,
                    ),
                ];
                for (level, more, most) in levels {
                    let most = i64::from(most.value);
                    if more > most {
                        wanting.push(Wanting::Missed { level, more, most });
                    }
                }
                let percent = worth.saturating_mul(100).div_euclid(best.worth.max(1));
                let least = i64::from(rule.worth_percent_at_least.value);
                if percent < least {
                    wanting.push(Wanting::Worth { percent, least });
                }
            }
        }
        Soundness {
            is_sound: wanting.is_empty(),
            wanting,
        }
    }
}
