//! What gave way, by how much, and what outranked it.
//!
//! What outranked a bound is found in one way for all rule kinds: items that may be placed are
//! put in, and items that stand there are taken out, one at a time, or one in place of another where
//! that says nothing; where it would serve the bound, the re-check says which others would then be missed.
//! Where that says nothing either, it is the hard rules that refuse the items which would have served it.

use std::collections::BTreeMap;

use crate::base::CaseFieldId;
use crate::infer::Setting;
use crate::plan::recheck::{By, Miss, Verdict, judged};
use crate::plan::{Item, Loads, Pool, Refusal, Spot, Week, place, refused};
use crate::rules::kinds::{Exclude, LeastLoad, Rule};
use crate::rules::vocab::Yields;

use super::answer::Shortfall;
use super::claim::Ruling;
use super::reason::{Held, beyond, ruling};
use super::relax::{Saying, sayings, take_back};

/// The most bounds that are named as what outranked one.
const MOST_NAMED: usize = 4;
/// The most changes of the week that are tried for one bound.
const MOST_TRIED: usize = 400;

/// What gave way, the hardest level first, then by kind and id.
pub(crate) fn shortfalls(held: &Held<'_>) -> Vec<Shortfall> {
    let mut groups: BTreeMap<(Yields, Ruling), Vec<&Miss>> = BTreeMap::new();
    for miss in &held.verdict.misses {
        groups
            .entry((miss.yields, ruling(miss)))
            .or_default()
            .push(miss);
    }
    let rulings: Vec<&Ruling> = groups.keys().map(|(_, ruling)| ruling).collect();
    let fields = ruled_out_by(held, &rulings);
    let pieces = for_lack_of_pieces(held, &rulings);
    let mut around = Around {
        held,
        neighbours: None,
        exchanges: None,
        refused: None,
    };
    let groups = groups.into_iter().zip(fields).zip(pieces);
    groups
        .filter_map(|((((yields, ruling), misses), fields), pieces)| {
            around.shortfall(yields, ruling, &misses, (fields, pieces))
        })
        .collect()
}

/// A week.
type Days = Vec<Vec<Item>>;

/// A solved week with the weeks about it, each sort made when it is first asked for and looked through for every bound.
struct Around<'h> {
    held: &'h Held<'h>,
    neighbours: Option<Vec<Days>>,
    exchanges: Option<Vec<Days>>,
    /// Items that the case or hard rules refuse, with what refuses them.
    refused: Option<Vec<(Item, Vec<Refusal>)>>,
}

impl Around<'_> {
    fn shortfall(
        &mut self,
        yields: Yields,
        ruling: Ruling,
        misses: &[&Miss],
        (ruled_out_by, for_lack_of_pieces): (Vec<CaseFieldId>, bool),
    ) -> Option<Shortfall> {
        let held = self.held;
        let first = misses.first()?;
        let day_of = |day: usize| held.week.days.get(day).map(|day| day.layout.day.value);
        let mut days: Vec<u8> = misses
            .iter()
            .filter_map(|miss| miss.day.and_then(day_of))
            .collect();
        days.sort_unstable();
        days.dedup();
        Some(Shortfall {
            place: first.place.clone(),
            level: yields.into(),
            units: misses.iter().map(|miss| miss.units).sum(),
            lack: misses.iter().map(|miss| miss.lack).sum(),
            days,
            outranked_by: self.outranked_by(yields, &ruling),
            ruled_out_by,
            for_lack_of_pieces,
            ruling,
        })
    }

    /// What outranked a bound: found with one item more or less, else with one in place of another, else
    /// in what refuses the items that would have served it.
    fn outranked_by(&mut self, yields: Yields, of: &Ruling) -> Vec<Ruling> {
        let held = self.held;
        let neighbours = self.neighbours.get_or_insert_with(|| neighbours(held));
        let found = outranked_in(held, yields, of, neighbours);
        if !found.is_empty() {
            return found;
        }
        let exchanges = self.exchanges.get_or_insert_with(|| exchanges(held));
        let found = outranked_in(held, yields, of, exchanges);
        if !found.is_empty() {
            return found;
        }
        let refused = self.refused.get_or_insert_with(|| refused_items(held));
        refusing(held, refused, of)
    }
}

/// Units that a verdict has missed of one bound.
fn units(verdict: &Verdict, of: &Ruling) -> i64 {
    verdict
        .misses
        .iter()
        .filter(|miss| ruling(miss) == *of)
        .map(|miss| miss.units)
        .sum()
}

/// Units that a week misses of one bound, whatever else it misses.
fn units_by(setting: &Setting<'_>, week: &Week<'_>, days: &[Vec<Item>], of: &Ruling) -> i64 {
    let by = match of {
        Ruling::Rule { kind, id } => By::Rule(kind, id),
        Ruling::Part(_) => By::Parts,
    };
    let verdict = judged(setting, week, days, by);
    units(&verdict, of)
}

/// The week with one item more, at the end of its part.
fn with(days: &[Vec<Item>], item: &Item) -> Option<Days> {
    let mut days = days.to_vec();
    let session = days.get_mut(item.day)?;
    if session.iter().any(|held| held.exercise == item.exercise) {
        return None;
    }
    let at = session
        .iter()
        .position(|held| held.slot > item.slot)
        .unwrap_or(session.len());
    session.insert(at, item.clone());
    Some(days)
}

/// The weeks that differ by one item, a bounded number of them, spread evenly.
fn neighbours(held: &Held<'_>) -> Vec<Days> {
    let mut all = Vec::new();
    for (day, session) in held.days.iter().enumerate() {
        for at in 0..session.len() {
            let mut days = held.days.to_vec();
            if let Some(session) = days.get_mut(day) {
                session.remove(at);
            }
            all.push(days);
        }
    }
    let items: Vec<&Item> = held.pool.days.iter().flatten().collect();
    let step = items.len().div_ceil(MOST_TRIED).max(1);
    all.extend(
        items
            .iter()
            .step_by(step)
            .filter_map(|item| with(held.days, item)),
    );
    all
}

/// The weeks in which one item of a day stands in place of another, a bounded number of them, spread evenly.
fn exchanges(held: &Held<'_>) -> Vec<Days> {
    let items: usize = held.pool.days.iter().map(Vec::len).sum();
    let longest = held.days.iter().map(Vec::len).max().unwrap_or(0);
    let step = (items * longest).div_ceil(MOST_TRIED).max(1);
    let mut all = Vec::new();
    for (at, item) in held.pool.days.iter().flatten().enumerate() {
        let here = held.days.get(item.day).map_or(0, Vec::len);
        // Every step-th of all pairs, whichever item they begin with.
        for out in (0..here).filter(|out| (at * longest + out).is_multiple_of(step)) {
            let mut days = held.days.to_vec();
            if let Some(session) = days.get_mut(item.day) {
                session.remove(out);
            }
            all.extend(with(&days, item));
        }
    }
    all
}

/// The hard rules that refuse items which would have served a bound, of the items that the fewest refuse.
fn refusing(held: &Held<'_>, refused: &[(Item, Vec<Refusal>)], of: &Ruling) -> Vec<Ruling> {
    let now = units(held.verdict, of);
    let mut refused: Vec<(&Item, Vec<Ruling>)> = refused
        .iter()
        .filter_map(|(item, against)| {
            // What the case has nothing for is said by its fields.
            let rules: Option<Vec<Ruling>> = against.iter().map(refusing_rule).collect();
            Some((item, rules?))
        })
        .collect();
    refused.sort_by_key(|(_, rules)| rules.len());
    let mut counted: BTreeMap<Ruling, usize> = BTreeMap::new();
    let mut fewest = usize::MAX;
    for (item, rules) in refused {
        if rules.len() > fewest {
            break;
        }
        let serves = with(held.days, item)
            .is_some_and(|days| units_by(held.setting, held.week, &days, of) < now);
        if serves {
            fewest = rules.len();
            for ruling in rules {
                *counted.entry(ruling).or_insert(0) += 1;
            }
        }
    }
    most_often(counted)
}

fn refusing_rule(why: &Refusal) -> Option<Ruling> {
    let (kind, id) = match why {
        Refusal::Excluded(id) => (Exclude::KIND, id),
        Refusal::TooLight(id) => (LeastLoad::KIND, id),
        _ => return None,
    };
    Some(Ruling::Rule {
        kind,
        id: id.value.clone(),
    })
}

/// Every item that the case or hard rules refuse and that could stand there without them.
fn refused_items(held: &Held<'_>) -> Vec<(Item, Vec<Refusal>)> {
    let mut all = Vec::new();
    for (day, of_day) in held.week.days.iter().enumerate() {
        for slot in 0..of_day.layout.parts.len() {
            for (exercise, listed) in held.setting.graph.exercises.iter().enumerate() {
                all.extend(listed.roles.iter().filter_map(|role| {
                    let spot = Spot {
                        day,
                        slot,
                        exercise,
                        role,
                    };
                    refused(held.setting, held.week, held.loads, spot)
                }));
            }
        }
    }
    all
}

fn outranked_in(held: &Held<'_>, yields: Yields, of: &Ruling, weeks: &[Days]) -> Vec<Ruling> {
    let now = units(held.verdict, of);
    let mut counted: BTreeMap<Ruling, usize> = BTreeMap::new();
    for days in weeks {
        if units_by(held.setting, held.week, days, of) >= now {
            continue;
        }
        let verdict = judged(held.setting, held.week, days, By::Everything);
        let newly = beyond(&verdict, held.verdict);
        for (miss, _) in newly
            .iter()
            .filter(|(miss, _)| miss.yields <= yields && ruling(miss) != *of)
        {
            *counted.entry(ruling(miss)).or_insert(0) += 1;
        }
    }
    most_often(counted)
}

/// Those that stand in the way most often.
fn most_often(counted: BTreeMap<Ruling, usize>) -> Vec<Ruling> {
    let mut named: Vec<(Ruling, usize)> = counted.into_iter().collect();
    // A stable sort: what stands in the way equally often stays in the order of rules.
    named.sort_by_key(|(_, times)| std::cmp::Reverse(*times));
    named
        .into_iter()
        .take(MOST_NAMED)
        .map(|(ruling, _)| ruling)
        .collect()
}

/// For each bound: case fields that rule out exercises which would have served it: with the field taken
/// back, an exercise that it ruled out is put into the same week. The bound is looked at with the field
/// taken back, and as the case has it, since the field may be what asks for it.
fn ruled_out_by(held: &Held<'_>, of: &[&Ruling]) -> Vec<Vec<CaseFieldId>> {
    let mut all = vec![Vec::new(); of.len()];
    if of.is_empty() {
        return all;
    }
    let setting = held.setting;
    let fields =
        sayings(setting.pack, setting.case)
            .into_iter()
            .filter_map(|saying| match &saying {
                Saying::Field(field) => Some((field.clone(), saying)),
                _ => None,
            });
    for (field, saying) in fields {
        let serves = serves(held, &saying, of);
        for (fields, _) in all.iter_mut().zip(serves).filter(|(_, serves)| *serves) {
            fields.push(field.clone());
        }
    }
    all
}

/// What `then` makes of the case with something taken back; none where its days are laid out otherwise.
fn taken_back<R>(
    held: &Held<'_>,
    saying: &Saying,
    then: impl FnOnce(&Setting<'_>, &Week<'_>) -> Option<R>,
) -> Option<R> {
    let mut case = held.setting.case.clone();
    take_back(held.setting.pack, &mut case, saying);
    let setting = Setting::new(held.setting.pack, held.setting.graph, &case);
    let week = Week::of(&setting).ok()?;
    if week.id != held.week.id {
        return None;
    }
    then(&setting, &week)
}

/// For each bound: whether the gym's pieces stand in the way: with all pieces of the measure, the same week loaded again
/// serves it.
fn for_lack_of_pieces(held: &Held<'_>, of: &[&Ruling]) -> Vec<bool> {
    let none = || vec![false; of.len()];
    if of.is_empty() || !sayings(held.setting.pack, held.setting.case).contains(&Saying::Pieces) {
        return none();
    }
    let then = taken_back(held, &Saying::Pieces, |setting, week| {
        let loads = Loads::of(setting);
        let again = |item: &Item| {
            let spot = Spot {
                day: item.day,
                slot: item.slot,
                exercise: item.exercise,
                role: &item.role,
            };
            place(setting, week, &loads, spot).ok()?.ok()
        };
        let days = held.days.iter();
        let days: Option<Vec<Vec<Item>>> = days
            .map(|session| session.iter().map(again).collect())
            .collect();
        let days = days?;
        let serves = |of: &&Ruling| units_by(setting, week, &days, of) < units(held.verdict, of);
        Some(of.iter().map(serves).collect())
    });
    then.unwrap_or_else(none)
}

/// For each bound: whether an exercise that something said rules out would serve it. The candidates without it are
/// listed once for all bounds, and only where there is such an exercise.
fn serves(held: &Held<'_>, saying: &Saying, of: &[&Ruling]) -> Vec<bool> {
    let freed = |item: &&Item| held.setting.allowed.get(item.exercise) == Some(&false);
    let serves = taken_back(held, saying, |setting, week| {
        let allowed = setting.allowed.iter().zip(&held.setting.allowed);
        if !allowed.into_iter().any(|(then, now)| *then && !now) {
            return None;
        }
        let pool = Pool::of(setting, week, held.loads).ok()?;
        let items: Vec<&Item> = pool.days.iter().flatten().filter(freed).collect();
        let step = items.len().div_ceil(MOST_TRIED).max(1);
        let weeks: Vec<Days> = (items.iter().step_by(step))
            .filter_map(|item| with(held.days, item))
            .collect();
        let less = |setting: &Setting<'_>, week: &Week<'_>, of: &Ruling| {
            let units_of = |days: &[Vec<Item>]| units_by(setting, week, days, of);
            let now = units_of(held.days);
            weeks.iter().any(|days| units_of(days) < now)
        };
        let serves = of.iter();
        let serves = serves.map(|of| less(setting, week, of) || less(held.setting, held.week, of));
        Some(serves.collect())
    });
    serves.unwrap_or_else(|| vec![false; of.len()])
}
