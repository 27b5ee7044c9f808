//! Rows that follow from rules about two days, added where the relaxation breaks them.
//!
//! Each holds in every week that keeps the rule, so no week is lost and the bound gets nearer.
//! They are only made where the rule must hold in this stage.

use crate::graph::Bits;
use crate::plan::model::{Bound, Model, Row, TwoDaysKind};

use super::rows::Twice;
use super::session::Session;
use super::stage::Stage;

/// A row to come: what each candidate adds, by day, and its bounds.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Cut {
    /// Added for each such item; by day, candidate and amount.
    items: Vec<(usize, usize, i64)>,
    /// Added once a day that has any of these; by day and candidates.
    once: Vec<(usize, Bits)>,
    at_least: Option<i64>,
    at_most: Option<i64>,
}

/// More than so much over a bound is worth a row.
const BROKEN: f64 = 0.05;
/// Most rows of one round.
const MOST: usize = 24;

/// Rows that the shares of sessions break.
pub(super) fn broken(model: &Model, stage: &Stage, shares: &[(usize, &Session, f64)]) -> Vec<Cut> {
    let mut cuts = Vec::new();
    for rule in model.two_days.iter().filter(|rule| stage.hard(rule.level)) {
        match &rule.kind {
            TwoDaysKind::Repeat {
                what,
                at_least,
                at_most,
            } => repeat(model, what, *at_least, *at_most, &mut cuts),
            TwoDaysKind::Apart { what, from, near } => apart(what, from, near, &mut cuts),
            TwoDaysKind::Differ { what, at_most } => {
                differ(model, what, *at_most, shares, &mut cuts)
            }
        }
    }
    let mut worst: Vec<(f64, Cut)> = cuts
        .into_iter()
        .map(|cut| (cut.broken_by(shares), cut))
        .filter(|(broken, _)| *broken > BROKEN)
        .collect();
    worst.sort_by(|a, b| b.0.total_cmp(&a.0));
    worst.truncate(MOST);
    worst.into_iter().map(|(_, cut)| cut).collect()
}

/// Candidates of each exercise that a rule speaks of, by day.
fn by_exercise(model: &Model, what: &[Bits]) -> Vec<(usize, Vec<(usize, usize)>)> {
    let mut held: Vec<(usize, Vec<(usize, usize)>)> = Vec::new();
    for (day, (model, what)) in model.days.iter().zip(what).enumerate() {
        for at in what.iter() {
            let Some(exercise) = model.candidates.get(at).map(|candidate| candidate.exercise)
            else {
                continue;
            };
            match held.iter_mut().find(|(known, _)| *known == exercise) {
                Some((_, list)) => list.push((day, at)),
                None => held.push((exercise, vec![(day, at)])),
            }
        }
    }
    held
}

fn repeat(model: &Model, what: &[Bits], at_least: i64, at_most: i64, cuts: &mut Vec<Cut>) {
    for (_, list) in by_exercise(model, what) {
        if at_most < i64::MAX {
            let items = list.iter().map(|(day, at)| (*day, *at, 1)).collect();
            cuts.push(Cut {
                items,
                once: Vec::new(),
                at_least: None,
                at_most: Some(at_most),
            });
        }
        if at_least > 1 {
            // One used on a day brings the others: all of them less the least times this day's is not below zero.
            let mut days: Vec<usize> = list.iter().map(|(day, _)| *day).collect();
            days.dedup();
            for day in days {
                let items = list
                    .iter()
                    .map(|(held, at)| (*held, *at, if *held == day { 1 - at_least } else { 1 }))
                    .collect();
                cuts.push(Cut {
                    items,
                    once: Vec::new(),
                    at_least: Some(0),
                    at_most: None,
                });
            }
        }
    }
}

fn apart(what: &[Vec<Bits>], from: &[Vec<Bits>], near: &[(usize, usize)], cuts: &mut Vec<Cut>) {
    for (one, other) in near {
        let (Some(what), Some(from)) = (what.get(*one), from.get(*other)) else {
            continue;
        };
        let keys: Bits = what
            .iter()
            .flat_map(|keys| keys.iter().collect::<Vec<_>>())
            .collect();
        for key in keys.iter() {
            let having = |list: &[Bits]| -> Bits {
                list.iter()
                    .enumerate()
                    .filter(|(_, keys)| keys.has(key))
                    .map(|(at, _)| at)
                    .collect()
            };
            let cut = Cut {
                items: Vec::new(),
                once: vec![(*one, having(what)), (*other, having(from))],
                at_least: None,
                at_most: Some(1),
            };
            if !cut.once.iter().any(|(_, set)| set.is_empty()) && !cuts.contains(&cut) {
                cuts.push(cut);
            }
        }
    }
}

/// Two days that share more than they may: the exercises that they share most, together.
fn differ(
    model: &Model,
    what: &[Bits],
    at_most: i64,
    shares: &[(usize, &Session, f64)],
    cuts: &mut Vec<Cut>,
) {
    let held = by_exercise(model, what);
    let share = |day: usize, list: &[(usize, usize)]| -> f64 {
        shares
            .iter()
            .filter(|(held, session, _)| {
                *held == day
                    && list
                        .iter()
                        .any(|(d, at)| *d == day && session.items.contains(at))
            })
            .map(|(_, _, share)| share)
            .sum()
    };
    let count = usize::try_from(at_most)
        .unwrap_or(usize::MAX)
        .saturating_add(1);
    for one in 0..model.days.len() {
        for other in one + 1..model.days.len() {
            let mut both: Vec<(f64, usize)> = held
                .iter()
                .enumerate()
                .map(|(at, (_, list))| (share(one, list) + share(other, list), at))
                .filter(|(sum, _)| *sum > 1.0)
                .collect();
            both.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(&b.1)));
            if both.len() < count {
                continue;
            }
            let items: Vec<(usize, usize, i64)> = both
                .iter()
                .take(count)
                .filter_map(|(_, at)| held.get(*at))
                .flat_map(|(_, list)| list.iter().filter(|(day, _)| *day == one || *day == other))
                .map(|(day, at)| (*day, *at, 1))
                .collect();
            let most = 2 * i64::try_from(count).unwrap_or(i64::MAX / 4) - 1;
            cuts.push(Cut {
                items,
                once: Vec::new(),
                at_least: None,
                at_most: Some(most),
            });
        }
    }
}

impl Cut {
    /// By how much shares of sessions break it.
    fn broken_by(&self, shares: &[(usize, &Session, f64)]) -> f64 {
        let total: f64 = shares
            .iter()
            .map(|(day, session, share)| self.amount(*day, session) as f64 * share)
            .sum();
        let below = self.at_least.map_or(0.0, |least| least as f64 - total);
        let above = self.at_most.map_or(0.0, |most| total - most as f64);
        below.max(above)
    }

    fn amount(&self, day: usize, session: &Session) -> i64 {
        let of_items: i64 = self
            .items
            .iter()
            .filter(|(held, at, _)| *held == day && session.items.contains(at))
            .map(|(_, _, amount)| *amount)
            .sum();
        let once = self
            .once
            .iter()
            .filter(|(held, set)| *held == day && session.items.iter().any(|at| set.has(*at)));
        of_items + i64::try_from(once.count()).unwrap_or(0)
    }

    /// Adds the row to a model and to sessions that are known.
    pub(super) fn add_to(&self, model: &mut Model, known: &mut [Vec<Session>]) {
        let row = model.rows.len();
        for (day, held) in known.iter_mut().enumerate() {
            for session in held {
                let amount = self.amount(day, session);
                session.amounts.push(amount);
            }
        }
        for (day, at, amount) in &self.items {
            if let Some(candidate) = model
                .days
                .get_mut(*day)
                .and_then(|held| held.candidates.get_mut(*at))
            {
                candidate.amounts.push((row, *amount));
            }
        }
        for (day, set) in &self.once {
            let presence = model.presences.len();
            model.presences.push((row, 1));
            for at in set.iter() {
                if let Some(candidate) = model
                    .days
                    .get_mut(*day)
                    .and_then(|held| held.candidates.get_mut(at))
                {
                    candidate.once.push(presence);
                }
            }
        }
        let bound = Bound {
            level: None,
            at_least: self.at_least,
            at_most: self.at_most,
            unit: 1,
        };
        model.rows.push(Row {
            name: "two days".to_owned(),
            tables: Vec::new(),
            bounds: vec![bound],
        });
    }
}

/// Adds a row for each exercise of which a rule asks for none or several; gives what they count.
pub(super) fn twice(model: &mut Model, stage: &Stage) -> Vec<Twice> {
    let mut all = Vec::new();
    for rule in &model.two_days {
        let TwoDaysKind::Repeat {
            what,
            at_least,
            at_most,
        } = &rule.kind
        else {
            continue;
        };
        if *at_least < 2 || stage.free(rule.level) {
            continue;
        }
        for (_, list) in by_exercise(model, what) {
            let mut items = vec![Vec::new(); model.days.len()];
            for (day, at) in &list {
                if let Some(held) = items.get_mut(*day) {
                    held.push(*at);
                }
            }
            all.push((rule.level, *at_least, *at_most, items));
        }
    }
    let mut twices = Vec::new();
    for (level, at_least, at_most, items) in all {
        let row = model.rows.len();
        for (held, items) in model.days.iter_mut().zip(&items) {
            for at in items {
                if let Some(candidate) = held.candidates.get_mut(*at) {
                    candidate.amounts.push((row, 1));
                }
            }
        }
        model.rows.push(Row {
            name: "none or several".to_owned(),
            tables: Vec::new(),
            bounds: Vec::new(),
        });
        twices.push(Twice {
            row,
            level,
            at_least,
            at_most,
            items,
        });
    }
    twices
}

/// Takes all rows from `first` on off a model; cuts came last, and so did their presences.
pub(super) fn without(model: &mut Model, first: usize) {
    model.rows.truncate(first);
    let presences = model
        .presences
        .iter()
        .filter(|(row, _)| *row < first)
        .count();
    model.presences.truncate(presences);
    for candidate in model.days.iter_mut().flat_map(|day| &mut day.candidates) {
        candidate.amounts.retain(|(row, _)| *row < first);
        candidate.once.retain(|presence| *presence < presences);
    }
}
