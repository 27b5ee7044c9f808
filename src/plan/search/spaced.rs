//! Exercises that a rule wants several times or not at all, and that find no days far enough apart.
//!
//! Where the days of a week lie side by side, a rule that keeps an exercise off the next day leaves
//! it fewer days than it must have. A relaxation sees neither rule whole, so without this a search
//! would have to rule such exercises out one by one, and all that follows from it.

use crate::plan::model::{Model, TwoDaysKind};

use super::node::NOTHING;
use super::rows::Twice;
use super::session::{DaySearch, Fixed, Wanted};
use super::stage::Stage;

/// Most points of a walk that asks whether any session of a day has an item.
const ASKING: u64 = 2_000;

/// Rows of exercises that no week of a stage has, and the work that it took to see.
pub(super) fn without_days(
    model: &Model,
    stage: &Stage,
    days: &[DaySearch<'_>],
    twices: &[Twice],
) -> (Vec<usize>, u64) {
    let mut work = 0;
    let mut rows = Vec::new();
    for twice in twices.iter().filter(|twice| stage.hard(twice.level)) {
        let apart = |one: usize, other: usize| meet(model, stage, twice, one, other);
        let side_by_side = (0..days.len()).any(|one| (0..one).any(|other| apart(one, other)));
        if !side_by_side {
            continue;
        }
        let has: Vec<bool> = days
            .iter()
            .zip(&twice.items)
            .map(|(search, items)| {
                items.iter().any(|item| {
                    let (may, spent) = may_stand(search, model.rows.len(), *item);
                    work += spent;
                    may
                })
            })
            .collect();
        if most_days(&has, apart) < twice.at_least {
            rows.push(twice.row);
        }
    }
    (rows, work)
}

/// Whether rules that must hold keep all items of an exercise on two days from standing in one week.
fn meet(model: &Model, stage: &Stage, twice: &Twice, one: usize, other: usize) -> bool {
    let of = |day: usize| twice.items.get(day).map_or(&[][..], Vec::as_slice);
    let too_near = |a: (usize, usize), b: (usize, usize)| {
        let rules = model.two_days.iter().filter(|rule| stage.hard(rule.level));
        rules.into_iter().any(|rule| match &rule.kind {
            TwoDaysKind::Apart { what, from, near } => {
                let keys = what.get(a.0).and_then(|day| day.get(a.1));
                let others = from.get(b.0).and_then(|day| day.get(b.1));
                let shared = keys
                    .zip(others)
                    .is_some_and(|(one, other)| one.meets(other));
                shared && near.contains(&(a.0, b.0))
            }
            TwoDaysKind::Differ { .. } | TwoDaysKind::Repeat { .. } => false,
        })
    };
    of(one).iter().all(|a| {
        of(other).iter().all(|b| {
            let (a, b) = ((one, *a), (other, *b));
            too_near(a, b) || too_near(b, a)
        })
    })
}

/// Whether some session of a day may have an item, as far as a short walk tells, and its work.
fn may_stand(search: &DaySearch<'_>, rows: usize, item: usize) -> (bool, u64) {
    if search.out.has(item) {
        return (false, 0);
    }
    let fixed = Fixed {
        has: vec![item],
        ..Fixed::default()
    };
    let wanted = Wanted {
        least: NOTHING,
        dearer: &[],
        best_only: true,
        // Any will do.
        near: i64::MAX / 8,
        work: ASKING,
        most: usize::MAX,
    };
    let found = search.walk(&vec![0; rows], &mut Vec::new(), &fixed, wanted);
    (found.cut || !found.sessions.is_empty(), found.work)
}

/// The most of the days that have something of which no two meet.
fn most_days(has: &[bool], meet: impl Fn(usize, usize) -> bool) -> i64 {
    let days: Vec<usize> = (0..has.len())
        .filter(|day| has.get(*day) == Some(&true))
        .collect();
    let sets = 0u32..1 << days.len().min(7);
    let of = |set: u32| -> Vec<usize> {
        let within = days.iter().enumerate();
        let within = within.filter(|(at, _)| set >> at & 1 == 1);
        within.map(|(_, day)| *day).collect()
    };
    let stands = |set: &Vec<usize>| {
        let mut pairs = set.iter().enumerate();
        pairs.all(|(at, one)| set.iter().skip(at + 1).all(|other| !meet(*one, *other)))
    };
    let most = sets.map(of).filter(stands).map(|set| set.len()).max();
    i64::try_from(most.unwrap_or(0)).unwrap_or(0)
}

#[cfg(test)]
mod tests {
    use super::most_days;

    #[test]
    fn days_side_by_side_are_taken_once() {
        let next = |one: usize, other: usize| one.abs_diff(other) == 1;
        assert_eq!(most_days(&[true, true], next), 1);
        assert_eq!(most_days(&[true, true, true], next), 2);
        assert_eq!(most_days(&[true, false, true], next), 2);
        assert_eq!(most_days(&[false, false], next), 0);
        assert_eq!(most_days(&[true; 7], next), 4);
        assert_eq!(most_days(&[true; 7], |_, _| false), 7);
    }
}
