//! `followed`: what waits for something freer, and what answers it.

use crate::base::RuleId;
use crate::graph::{Bits, Body};
use crate::plan::item::Item;
use crate::rules::kinds::{Followed, Within};

use super::build::Builder;
use super::quality_worth::HUNDREDTHS;
use super::shape::{Follow, Need};

/// The components of a class of needs: any of them may be answered.
type Class<'a> = Vec<&'a Body>;

pub(super) fn add(builder: &mut Builder<'_, '_>, id: &RuleId, rule: &Followed) {
    let freer = rule.freer.unwrap_or(true);
    let mut classes: Vec<(usize, Vec<usize>, Class<'_>)> = Vec::new();
    let mut needs = Vec::new();
    let mut gives = Vec::new();
    let setting = builder.setting;
    for day in 0..builder.days() {
        let of_day = builder
            .items(day)
            .iter()
            .map(|item| {
                let waiting = pieces(builder, item, &rule.what);
                if waiting.is_empty() {
                    return None;
                }
                let answers = pieces(builder, item, &rule.by);
                let within = waiting.iter().any(|(at, one)| {
                    answers
                        .iter()
                        .any(|(later, other)| later > at && answers_to(one, other, freer))
                });
                if within {
                    return Some(Need::Met);
                }
                let which: Vec<usize> = waiting.iter().map(|(at, _)| *at).collect();
                let known = classes
                    .iter()
                    .position(|(exercise, held, _)| *exercise == item.exercise && *held == which);
                Some(Need::Class(known.unwrap_or_else(|| {
                    let bodies: Class<'_> = which
                        .iter()
                        .filter_map(|at| {
                            setting
                                .graph
                                .exercises
                                .get(item.exercise)
                                .and_then(|held| held.pieces.get(*at))
                        })
                        .map(|piece| &piece.body)
                        .collect();
                    classes.push((item.exercise, which.clone(), bodies));
                    classes.len() - 1
                })))
            })
            .collect();
        needs.push(of_day);
    }
    for day in 0..builder.days() {
        let of_day: Vec<Bits> = builder
            .items(day)
            .iter()
            .map(|item| {
                let answers = pieces(builder, item, &rule.by);
                classes
                    .iter()
                    .enumerate()
                    .filter(|(_, (_, _, bodies))| {
                        bodies.iter().any(|one| {
                            answers
                                .iter()
                                .any(|(_, other)| answers_to(one, other, freer))
                        })
                    })
                    .map(|(class, _)| class)
                    .collect()
            })
            .collect();
        gives.push(of_day);
    }
    builder.follow(Follow {
        rule: id.to_string(),
        level: rule.yields.level(),
        week: rule.within == Within::Week,
        closer_by: HUNDREDTHS * rule.closer_by,
        needs,
        gives,
    });
}

/// Components of an item that a selector holds for, with their places.
fn pieces<'b>(
    builder: &Builder<'b, '_>,
    item: &Item,
    what: &crate::rules::vocab::Selector,
) -> Vec<(usize, &'b Body)> {
    let graph = builder.setting.graph;
    let Some(exercise) = graph.exercises.get(item.exercise) else {
        return Vec::new();
    };
    let placed = item.placed(builder.week);
    exercise
        .pieces
        .iter()
        .enumerate()
        .filter(|(_, piece)| {
            builder
                .setting
                .matches_piece(what, &placed, exercise, &piece.body)
        })
        .map(|(at, piece)| (at, &piece.body))
        .collect()
}

/// Whether `other` is the same skill and, where asked, freer.
fn answers_to(one: &Body, other: &Body, freer: bool) -> bool {
    one.skills.meets(&other.skills)
        && (!freer
            || (other.departing.strictly_within(&one.departing)
                && !other.departing.meets(&other.strong)))
}
