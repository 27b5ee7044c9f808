//! What rules about two days can see of a session, and which sessions they let stand together.

use std::collections::{BTreeMap, BTreeSet};

use crate::base::Cancel;
use crate::graph::Bits;
use crate::plan::model::{Model, TwoDaysKind};

use super::pools::Judged;
use super::session::Session;
use super::stage::Stage;

/// What a two-day rule can see of a session: kind, rule, and the key, exercise or class.
pub(super) type Mark = (Seen, usize, usize);

#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Seen {
    What,
    From,
    Shared,
    Counted,
    Gives,
    Waits,
}

/// More pairs of classes than are told apart beforehand; a walk finds out about the others.
const MOST_PAIRS: usize = 100_000_000;

/// By day, by session: the marks that can still matter; none where it was cancelled.
///
/// A mark without which no unit can be missed or answered between the days of these pools is left out: of two that must not
/// meet where no other day that the rule speaks of has the other, of a thing that is counted where all days that have it are
/// no more than the rule allows, of an answer that no earlier day waits for.
pub(super) fn marks(
    judged: &Judged<'_>,
    sessions: &[Vec<(i64, Session)>],
    cancel: &Cancel,
) -> Option<Vec<Vec<Vec<Mark>>>> {
    let (model, stage) = (judged.model, judged.stage);
    let of_items: Vec<Vec<Vec<Mark>>> = (0..sessions.len())
        .map(|day| seen(model, stage, day))
        .collect();
    let waits: Vec<usize> = model
        .follows
        .iter()
        .enumerate()
        .filter(|(_, follow)| !stage.free(follow.level))
        .map(|(at, _)| at)
        .collect();
    let waiting = |session: &Session| -> Vec<Mark> {
        waits
            .iter()
            .flat_map(|at| {
                let classes = session.waits.get(*at).into_iter().flatten();
                classes.map(|class| (Seen::Waits, *at, *class))
            })
            .collect()
    };
    let mut held: Vec<BTreeSet<Mark>> = Vec::new();
    for (pool, of_items) in sessions.iter().zip(&of_items) {
        let mut placed = Bits::default();
        let mut all = BTreeSet::new();
        for (_, session) in pool {
            for item in &session.items {
                placed.insert(*item);
            }
            all.extend(waiting(session));
        }
        all.extend(
            placed
                .iter()
                .filter_map(|item| of_items.get(item))
                .flatten(),
        );
        held.push(all);
    }
    let has = |day: usize, mark: Mark| held.get(day).is_some_and(|held| held.contains(&mark));
    let matters = |day: usize, (kind, rule, key): &Mark| -> bool {
        match kind {
            Seen::What | Seen::From => {
                let Some(TwoDaysKind::Apart { near, .. }) =
                    model.two_days.get(*rule).map(|held| &held.kind)
                else {
                    return true;
                };
                near.iter().any(|(one, other)| match kind {
                    Seen::What => *one == day && has(*other, (Seen::From, *rule, *key)),
                    _ => *other == day && has(*one, (Seen::What, *rule, *key)),
                })
            }
            Seen::Shared => (0..held.len())
                .filter(|other| *other != day)
                .any(|other| has(other, (Seen::Shared, *rule, *key))),
            Seen::Counted => {
                let days = (0..held.len()).filter(|day| has(*day, (*kind, *rule, *key)));
                let most = match model.two_days.get(*rule).map(|held| &held.kind) {
                    Some(TwoDaysKind::Repeat { at_most, .. }) => *at_most,
                    _ => 0,
                };
                i64::try_from(days.count()).unwrap_or(i64::MAX) > most
            }
            Seen::Gives => (0..day).any(|other| has(other, (Seen::Waits, *rule, *key))),
            Seen::Waits => true,
        }
    };
    let mut all = Vec::new();
    for (day, (pool, of_items)) in sessions.iter().zip(of_items).enumerate() {
        let kept: Vec<Vec<Mark>> = of_items
            .into_iter()
            .map(|mut marks| {
                marks.retain(|mark| !judged.reductions.keys || matters(day, mark));
                marks
            })
            .collect();
        let of_day = pool.iter().map(|(_, session)| {
            let items = session.items.iter().filter_map(|item| kept.get(*item));
            let mut marks: Vec<Mark> = items.flatten().copied().collect();
            marks.sort_unstable();
            // A key is seen once however many items bear it; what waits is counted.
            marks.dedup();
            marks.extend(waiting(session));
            marks
        });
        all.push(of_day.collect());
        if cancel.is_cancelled() {
            return None;
        }
    }
    Some(all)
}

/// Everything that two-day rules of the stage see of a day's candidates; the days of an exercise
/// that must come several times or not at all are told by its row.
fn seen(model: &Model, stage: &Stage, day: usize) -> Vec<Vec<Mark>> {
    let Some(held) = model.days.get(day) else {
        return Vec::new();
    };
    let mut marks = vec![Vec::new(); held.candidates.len()];
    for (at, rule) in model.two_days.iter().enumerate() {
        if stage.free(rule.level) {
            continue;
        }
        match &rule.kind {
            TwoDaysKind::Apart { what, from, .. } => {
                for (kind, keys) in [(Seen::What, what), (Seen::From, from)] {
                    for (marks, keys) in marks.iter_mut().zip(keys.get(day).into_iter().flatten()) {
                        marks.extend(keys.iter().map(|key| (kind, at, key)));
                    }
                }
            }
            TwoDaysKind::Differ { what, .. } | TwoDaysKind::Repeat { what, .. } => {
                let kind = match rule.kind {
                    TwoDaysKind::Differ { .. } => Seen::Shared,
                    _ => Seen::Counted,
                };
                for item in what.get(day).into_iter().flat_map(Bits::iter) {
                    if let (Some(marks), Some(candidate)) =
                        (marks.get_mut(item), held.candidates.get(item))
                    {
                        marks.push((kind, at, candidate.exercise));
                    }
                }
            }
        }
    }
    for (at, follow) in model.follows.iter().enumerate() {
        if stage.free(follow.level) {
            continue;
        }
        for (marks, classes) in marks
            .iter_mut()
            .zip(follow.gives.get(day).into_iter().flatten())
        {
            marks.extend(classes.iter().map(|class| (Seen::Gives, at, class)));
        }
    }
    marks
}

/// By day, by other day, by class: the other's classes that hard rules keep from standing with it; none where it was
/// cancelled.
pub(super) fn apart(
    model: &Model,
    stage: &Stage,
    known: &[Vec<Vec<Mark>>],
    cancel: &Cancel,
) -> Option<Vec<Vec<Vec<Bits>>>> {
    let days = known.len();
    let bearers: Vec<BTreeMap<Mark, Bits>> = known.iter().map(|held| bearing(held)).collect();
    let mut apart = vec![vec![Vec::new(); days]; days];
    for one in 0..days {
        for other in 0..days {
            let rules = speaking(model, stage, one, other);
            let (Some(left), Some(right)) = (known.get(one), bearers.get(other)) else {
                continue;
            };
            if cancel.is_cancelled() {
                return None;
            }
            let others = known.get(other).map_or(0, Vec::len);
            if one == other || rules.is_empty() || left.len().saturating_mul(others) > MOST_PAIRS {
                continue;
            }
            let of_class = |marks: &Vec<Mark>| -> Bits {
                let mut out = Bits::default();
                for rule in &rules {
                    keeps_out(model, *rule, (one, marks), (other, right), &mut out);
                }
                out
            };
            if let Some(slot) = apart.get_mut(one).and_then(|row| row.get_mut(other)) {
                *slot = left.iter().map(of_class).collect();
            }
        }
    }
    Some(apart)
}

/// By mark: the classes that bear it.
fn bearing(classes: &[Vec<Mark>]) -> BTreeMap<Mark, Bits> {
    let mut bearers: BTreeMap<Mark, Bits> = BTreeMap::new();
    for (class, marks) in classes.iter().enumerate() {
        for mark in marks {
            bearers.entry(*mark).or_default().insert(class);
        }
    }
    bearers
}

/// Hard rules about just these two days.
fn speaking(model: &Model, stage: &Stage, one: usize, other: usize) -> Vec<usize> {
    model
        .two_days
        .iter()
        .enumerate()
        .filter(|(_, rule)| stage.hard(rule.level))
        .filter(|(_, rule)| match &rule.kind {
            TwoDaysKind::Apart { near, .. } => near
                .iter()
                .any(|pair| *pair == (one, other) || *pair == (other, one)),
            TwoDaysKind::Differ { .. } => true,
            TwoDaysKind::Repeat { .. } => false,
        })
        .map(|(at, _)| at)
        .collect()
}

/// Adds the other day's classes that one rule keeps from standing with a class.
fn keeps_out(
    model: &Model,
    rule: usize,
    (one, marks): (usize, &[Mark]),
    (other, bearers): (usize, &BTreeMap<Mark, Bits>),
    out: &mut Bits,
) {
    let of_kind = |kind: Seen| {
        let marks = marks.iter();
        marks
            .filter(move |(seen, at, _)| *seen == kind && *at == rule)
            .map(|(_, _, key)| *key)
    };
    match model.two_days.get(rule).map(|held| &held.kind) {
        Some(TwoDaysKind::Apart { near, .. }) => {
            let ways = [
                ((one, other), Seen::What, Seen::From),
                ((other, one), Seen::From, Seen::What),
            ];
            for (_, mine, theirs) in ways.iter().filter(|(pair, _, _)| near.contains(pair)) {
                for key in of_kind(*mine) {
                    if let Some(classes) = bearers.get(&(*theirs, rule, key)) {
                        out.join(classes);
                    }
                }
            }
        }
        Some(TwoDaysKind::Differ { at_most, .. }) => {
            // Classes that share at least one, two, three … of the marks.
            let most = usize::try_from(*at_most).unwrap_or(0);
            let mut sharing = vec![Bits::default(); most + 1];
            for key in of_kind(Seen::Shared) {
                let Some(classes) = bearers.get(&(Seen::Shared, rule, key)) else {
                    continue;
                };
                for count in (1..=most).rev() {
                    let fewer = sharing.get(count - 1).map(|held| held.shared(classes));
                    if let (Some(slot), Some(fewer)) = (sharing.get_mut(count), fewer) {
                        slot.join(&fewer);
                    }
                }
                if let Some(slot) = sharing.first_mut() {
                    slot.join(classes);
                }
            }
            if let Some(more) = sharing.last() {
                out.join(more);
            }
        }
        _ => {}
    }
}

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::super::stage::Scale;
    use super::*;
    use crate::plan::model::TwoDays;

    fn model(kind: TwoDaysKind) -> Model {
        Model {
            days: Vec::new(),
            rows: Vec::new(),
            presences: Vec::new(),
            two_days: vec![TwoDays {
                rule: "two-days".to_owned(),
                level: None,
                kind,
            }],
            follows: Vec::new(),
        }
    }

    fn bits(of: &[usize]) -> Bits {
        of.iter().copied().collect()
    }

    /// Classes that share none, one, two and all three exercises with the class of the other day.
    #[rstest]
    #[case::nothing_shared(0, &[1, 2, 3])]
    #[case::one_shared(1, &[2, 3])]
    #[case::two_shared(2, &[3])]
    #[case::as_many_as_there_are(3, &[])]
    fn days_that_share_too_much(#[case] at_most: i64, #[case] expected: &[usize]) {
        let shared =
            |of: &[usize]| -> Vec<Mark> { of.iter().map(|key| (Seen::Shared, 0, *key)).collect() };
        let left = vec![shared(&[4, 5, 6])];
        let right = vec![
            shared(&[7, 8]),
            shared(&[4, 7]),
            shared(&[4, 6]),
            shared(&[4, 5, 6]),
        ];
        let what = vec![Bits::default(); 2];
        let model = model(TwoDaysKind::Differ { what, at_most });
        let found = apart(
            &model,
            &Stage::strict(Scale::of(0)),
            &[left, right],
            &Cancel::new(),
        );
        assert_eq!(
            found.unwrap_or_default(),
            [
                [vec![], vec![bits(expected)]],
                [
                    (0..4)
                        .map(|class| if expected.contains(&class) {
                            bits(&[0])
                        } else {
                            bits(&[])
                        })
                        .collect(),
                    vec![],
                ]
            ]
        );
    }

    #[test]
    fn days_too_near_each_other() {
        let left = vec![
            vec![(Seen::What, 0, 1)],
            vec![(Seen::From, 0, 1)],
            vec![(Seen::What, 0, 2)],
        ];
        let right = vec![vec![(Seen::From, 0, 1)], vec![(Seen::What, 0, 1)]];
        let nothing = || vec![Vec::new(); 2];
        let model = model(TwoDaysKind::Apart {
            what: nothing(),
            from: nothing(),
            near: vec![(0, 1)],
        });
        let found = apart(
            &model,
            &Stage::strict(Scale::of(0)),
            &[left, right],
            &Cancel::new(),
        );
        let of_left = vec![bits(&[0]), bits(&[]), bits(&[])];
        let of_right = vec![bits(&[0]), bits(&[])];
        assert_eq!(
            found.unwrap_or_default(),
            [[vec![], of_left], [of_right, vec![]]]
        );
    }
}
