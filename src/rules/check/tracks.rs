//! Tracks: events that can be found, measures that can be taken, numbers that mean something.

use std::collections::{BTreeMap, BTreeSet};

use crate::base::{At, Code, Place, SkillId, TrackEventId};
use crate::rules::vocab::{Take, TrackEvent, TrackTake, TrackUnit};

use super::Checks;
use super::circle::Links;
use super::items::get;
use super::sections::Sort;

/// More millimetres, or millimetres a second, than anything that is lifted comes to.
const FAR: i64 = 100_000;

/// An event that something names, with the key under which it does.
type Named<'p> = (&'static str, Option<&'p At<TrackEventId>>);

/// Checks all of it.
pub(super) fn check(checks: &mut Checks<'_, '_>) {
    let pack = checks.pack;
    let mut links = Links::default();
    for (id, event) in &pack.track_events {
        of_event(checks, id.as_str(), event);
        for (_, named) in named(event) {
            if let Some(named) = named {
                links.add(id.as_str(), named.as_str(), &named.place);
            }
        }
    }
    for path in links.circles() {
        let found = links.problem(
            Code::Circle,
            &path,
            "these events are sought from one another in a circle",
            "let one of them be sought without the others",
        );
        checks.out.extend(found);
    }
    for (id, measure) in &pack.track_measures {
        let mut taken: BTreeMap<&SkillId, &Place> = BTreeMap::new();
        for take in &measure.of {
            of_take(checks, id.as_str(), take);
            let own: BTreeSet<&At<SkillId>> = take.skills.iter().collect();
            for skill in own {
                if taken.insert(&skill.value, &skill.place).is_some() {
                    checks.problem(
                        Code::Contradiction,
                        skill.place.clone(),
                        format!("`{id}` is taken from `{skill}` in two ways"),
                        "leave one of them",
                    );
                }
            }
        }
    }
    for filter in pack.track_filters.values() {
        checks.at(&filter.cutoff_tenth_hertz, "cutoff-tenth-hertz", 5, 500);
        checks.at(&filter.gap_ms_at_most, "gap-ms-at-most", 0, 1_000);
        checks.at(
            &filter.rows_a_second_at_least,
            "rows-a-second-at-least",
            1,
            1_000,
        );
    }
    for (id, remark) in &pack.track_remarks {
        let all: [(&str, usize, &str); 2] = [
            ("skills", remark.skills.len(), "skill"),
            ("when", remark.when.len(), "measure with its range"),
        ];
        for (key, len, what) in all {
            checks.some(Sort::TrackRemark, id.as_str(), &[key], len, what);
        }
    }
}

fn named(event: &TrackEvent) -> [Named<'_>; 3] {
    [
        ("against", event.against.as_ref()),
        ("after", event.after.as_ref()),
        ("before", event.before.as_ref()),
    ]
}

fn of_event(checks: &mut Checks<'_, '_>, id: &str, event: &TrackEvent) {
    let sort = Sort::TrackEvent;
    checks.some(sort, id, &["skills"], event.skills.len(), "skill");
    match (&event.than, event.find.asks_than()) {
        (Some(than), true) => checks.at(than, "than", -FAR, FAR),
        (None, true) => checks.problem(
            Code::MissingKey,
            event.find.place.clone(),
            format!("nothing says above or below what `{id}` is"),
            "add `than`, in mm, or in mm a second for a speed",
        ),
        (Some(than), false) => checks.problem(
            Code::Contradiction,
            than.place.clone(),
            "what is greatest or least is above or below nothing",
            "take `than` out, or write another `find`",
        ),
        (None, false) => {}
    }
    if let Some(against) = &event.against
        && (!event.find.asks_than() || event.channel.is_speed())
    {
        checks.problem(
            Code::Contradiction,
            against.place.clone(),
            "only a place that is above or below something counts from an event",
            "take `against` out",
        );
    }
    for (key, named) in named(event) {
        sought_there(checks, (sort, id, key), named, &event.skills);
    }
}

/// What an item names must be sought in every track that the item is of.
fn sought_there(
    checks: &mut Checks<'_, '_>,
    (sort, id, key): (Sort, &str, &str),
    named: Option<&At<TrackEventId>>,
    skills: &[At<SkillId>],
) {
    let Some(named) = named else { return };
    // One that is not there at all has been told.
    let Some(of) = get(&checks.pack.track_events, named.as_str()) else {
        return;
    };
    if let Some(skill) = skills.iter().find(|skill| !of.skills.contains(skill)) {
        let (one, _, _) = sort.words();
        checks.problem(
            Code::Contradiction,
            named.place.clone(),
            format!("`{named}` is not sought in tracks of `{skill}`, of which the {one} `{id}` is"),
            format!("name another event under `{key}`, or take the skill out"),
        );
    }
}

fn of_take(checks: &mut Checks<'_, '_>, id: &str, take: &TrackTake) {
    let sort = Sort::TrackMeasure;
    let word = take.take.as_str();
    let place = take.take.place.clone();
    if take.skills.is_empty() {
        checks.problem(
            Code::EmptyMap,
            place.clone(),
            format!("nothing says of which tracks `{id}` is taken so"),
            "write at least one skill under `skills`",
        );
    }
    let is = |of: &[Take]| of.contains(&take.take.value);
    let within = [Take::Greatest, Take::Least, Take::Crossings];
    let with_channel = is(&[Take::Change, Take::Greatest, Take::Least, Take::Crossings]);
    let ground_is_known = take.stood.is_none() && is(&[Take::AboveGround]);
    // Key, whether it stands there, whether it may, whether it must.
    let keys = [
        (
            "channel",
            take.channel.is_some(),
            with_channel,
            with_channel,
        ),
        ("from", take.from.is_some(), true, !ground_is_known),
        ("to", take.to.is_some(), true, true),
        (
            "against",
            take.against.is_some(),
            is(&within),
            is(&[Take::Crossings]),
        ),
        (
            "band",
            take.band.is_some(),
            is(&[Take::Crossings]),
            is(&[Take::Crossings]),
        ),
        (
            "stood",
            take.stood.is_some(),
            is(&[Take::AboveGround]),
            false,
        ),
    ];
    for (key, there, may, must) in keys {
        if must && !there {
            checks.problem(
                Code::MissingKey,
                place.clone(),
                format!("`{word}` of `{id}` lacks `{key}`"),
                format!("add `{key}`"),
            );
        } else if there && !may {
            checks.problem(
                Code::UnknownKey,
                place.clone(),
                format!("`{key}` means nothing beside `take: {word}` of `{id}`"),
                "take it out",
            );
        }
    }
    checks.maybe(take.band.as_ref(), "band", 0, 1_000);
    checks.maybe(take.stood.as_ref(), "stood", 0, 10_000);
    let speed = take
        .channel
        .as_ref()
        .is_some_and(|channel| channel.is_speed());
    let in_unit = match take.unit.value {
        TrackUnit::Mm | TrackUnit::Cm | TrackUnit::PercentOfHeight => {
            !speed && !is(&[Take::Crossings, Take::Time])
        }
        TrackUnit::MmASecond | TrackUnit::CmASecond => speed && !is(&[Take::Crossings]),
        TrackUnit::Ms => is(&[Take::Time]),
        TrackUnit::Times => is(&[Take::Crossings]),
    };
    if !in_unit {
        checks.problem(
            Code::Contradiction,
            take.unit.place.clone(),
            format!("what `{id}` takes is not told in this unit"),
            "places in mm, cm or percent-of-height, speeds in mm-a-second or cm-a-second, `time` in ms, `crossings` in times",
        );
    }
    let named = [
        ("from", take.from.as_ref()),
        ("to", take.to.as_ref()),
        ("against", take.against.as_ref()),
    ];
    for (key, named) in named {
        sought_there(checks, (sort, id, key), named, &take.skills);
    }
}
