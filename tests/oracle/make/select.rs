//! Random selectors, conditions and day filters over a made pack.

use super::Names;
use super::random::{Random, list};

/// Which keys a selector may have.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum About {
    /// What an exercise is by itself: nothing of what stands in for what.
    Bare,
    /// What an exercise is, wherever it stands.
    Exercise,
    /// And in which role, part and effort it stands.
    Placed,
    /// And how heavy it is.
    Dosed,
}

/// A selector in flow style.
pub fn selector(random: &mut Random, names: &Names, about: About) -> String {
    format!("{{{}}}", keys(random, names, about, 2))
}

/// A selector of one or two keys that names no other selector.
pub fn flat(random: &mut Random, names: &Names, about: About) -> String {
    format!("{{{}}}", keys(random, names, about, 0))
}

fn keys(random: &mut Random, names: &Names, about: About, depth: u32) -> String {
    if depth == 2 && random.percent(8) {
        return String::from("everything: true");
    }
    let mut keys = vec![key(random, names, about, depth)];
    if random.percent(25) {
        let more = key(random, names, about, depth);
        let word = |key: &String| key.split(':').next().unwrap().to_owned();
        if word(&more) != word(&keys[0]) {
            keys.push(more);
        }
    }
    keys.join(", ")
}

fn key(random: &mut Random, names: &Names, about: About, depth: u32) -> String {
    let kind = if matches!(about, About::Placed | About::Dosed) && random.percent(35) {
        random.between(100, if about == About::Dosed { 104 } else { 102 })
    } else {
        random.between(0, if depth == 0 { 20 } else { 23 })
    };
    match kind {
        19 | 21 if about == About::Bare => {
            format!("skills: {}", list(&random.some(&names.skills, 1)))
        }
        0 | 1 => format!("exercises: {}", list(&random.some(&names.exercises, 3))),
        2 | 3 => format!("under: {}", list(&random.some(&names.simple, 2))),
        4 | 5 => format!("skills: {}", list(&random.some(&names.skills, 1))),
        6 => format!("with-any: {}", list(&random.some(&names.constraints, 2))),
        7 => format!("with-all: {}", list(&random.some(&names.constraints, 2))),
        8 => format!("with-none: {}", list(&random.some(&names.constraints, 2))),
        9 => format!("unconstrained: {}", random.percent(50)),
        10 => format!("departing: {{at-least: {}}}", random.between(1, 2)),
        11 => format!("strong: {{at-most: {}}}", random.between(0, 1)),
        12 => format!(
            "departure: {{at-least: {}, at-most: 6}}",
            random.between(1, 3)
        ),
        13 => format!("stages-all: {}", list(&random.some(&names.stages, 2))),
        14 => format!("stages-none: {}", list(&random.some(&names.stages, 1))),
        15 => format!("alone: {}", random.percent(60)),
        16 => match random.between(0, 2) {
            0 => format!(
                "trains: {{{}: {{at-least: {}}}}}",
                random.one(&names.qualities),
                random.between(1, 3)
            ),
            1 => format!("new: {}", random.percent(70)),
            _ => {
                let yes = random.percent(70);
                // One of these for good in each pack, so that the same numbers are drawn.
                match names.choice.len() % 4 {
                    0 => format!("disliked: {yes}"),
                    1 => format!("did-last-week: {yes}"),
                    2 => String::from("like-tried: [worse, learned, better]"),
                    _ if yes => String::from("tried: [worse, same]"),
                    _ => String::from("tried: [better]"),
                }
            }
        },
        17 => match random.between(0, 4) {
            0 => format!(
                "best-effect-on-focus: {{at-least: {}}}",
                random.between(1, 5)
            ),
            1 => format!(
                "worst-effect-on-focus: {{at-most: {}}}",
                random.between(-4, 0)
            ),
            2 => format!("helps: {}", list(&random.some(&names.movement_causes, 2))),
            3 => format!("shows: {}", list(&random.some(&names.movement_causes, 2))),
            _ => format!("in-focus: {}", random.percent(60)),
        },
        18 if random.percent(40) => format!(
            "case-of-skill: {{{}: {{is: [{}]}}, {}: {{at-least: {}}}}}",
            names.choice,
            random.one(&names.choices),
            names.number,
            random.between(1, 6)
        ),
        18 => format!(
            "case-of-skill: {{{}: {{is: [{}]}}}}",
            names.choice,
            random.one(&names.choices)
        ),
        19 => format!("full: [{}]", names.full_form),
        20 => format!("reps-in-complex: {{at-least: {}}}", random.between(2, 4)),
        21 => format!("groups: [{}]", random.one(&names.groups)),
        22 => {
            let (one, other) = (
                keys(random, names, about, depth - 1),
                keys(random, names, about, depth - 1),
            );
            format!("any: [{{{one}}}, {{{other}}}]")
        }
        23 => format!("not: [{{{}}}]", keys(random, names, about, depth - 1)),
        100 => format!("roles: {}", list(&random.some(&names.roles, 2))),
        101 => format!("parts: {}", list(&random.some(&names.parts, 1))),
        102 => format!("efforts: {}", list(&random.some(&names.efforts, 1))),
        103 => format!("percent: {{at-least: {}}}", random.between(60, 80)),
        _ => format!("percent: {{at-most: {}}}", random.between(60, 80)),
    }
}

/// `when` and `if-unknown`, each with a comma behind it, or nothing.
pub fn when(random: &mut Random, names: &Names, about_focus: bool) -> String {
    if random.percent(70) {
        return String::new();
    }
    let skip = if random.percent(50) { "skip" } else { "apply" };
    let one = condition(random, names, about_focus);
    let inside = match random.between(0, 4) {
        0 => format!(
            "any: [{{{one}}}, {{{}}}]",
            condition(random, names, about_focus)
        ),
        1 => format!("none: [{{{one}}}]"),
        2 => format!(
            "all: [{{{one}}}, {{{}}}]",
            condition(random, names, about_focus)
        ),
        _ => one,
    };
    // The list has a value where nothing is said, and all else but the fields is always known.
    let open = [&names.choice, &names.number, &names.date]
        .iter()
        .any(|field| inside.contains(&format!("{{{field}: ")))
        || inside.contains("best-age");
    let unknown = if open {
        format!("if-unknown: {skip}, ")
    } else {
        String::new()
    };
    format!("when: {{{inside}}}, {unknown}")
}

fn condition(random: &mut Random, names: &Names, about_focus: bool) -> String {
    match random.between(0, if about_focus { 10 } else { 7 }) {
        0 => format!("phase: {}", list(&random.some(&names.phases, 2))),
        1 => format!(
            "case: {{{}: {{is: {}}}}}",
            names.choice,
            list(&random.some(&names.choices, 1))
        ),
        2 => format!(
            "case: {{{}: {{is-not: {}}}}}",
            names.choice,
            list(&random.some(&names.choices, 1))
        ),
        3 => format!(
            "case: {{{}: {{at-least: {}}}}}",
            names.number,
            random.between(1, 6)
        ),
        4 => format!(
            "case: {{{}: {{has: {}}}}}",
            names.several,
            list(&random.some(&names.severals, 2))
        ),
        5 => format!(
            "case: {{{}: {{has-none: {}}}}}",
            names.several,
            list(&random.some(&names.severals, 2))
        ),
        6 => format!(
            "case: {{{}: {{at-most: {}}}}}",
            names.date,
            random.between(5, 40)
        ),
        7 => format!("faults: {}", list(&random.some(&names.faults, 2))),
        8 => {
            let best = random.some(&names.references, 1);
            // One or the other for good in each pack, so that the same numbers are drawn.
            if names.number.len().is_multiple_of(2) {
                format!("known-best: {}", list(&best))
            } else {
                format!("best-age: {{{}: {{at-least: 120}}}}", best[0])
            }
        }
        9 => format!(
            "focus-causes: {}",
            list(&random.some(&names.movement_causes, 2))
        ),
        _ => format!(
            "demand: {{{}: {{at-least: {}}}}}",
            random.one(&names.movement_causes),
            random.between(20, 120)
        ),
    }
}

/// `on`, with a comma behind it, or nothing.
pub fn on_days(random: &mut Random, names: &Names) -> String {
    if random.percent(65) {
        return String::new();
    }
    let filter = match random.between(0, 3) {
        0 => format!("efforts: {}", list(&random.some(&names.efforts, 1))),
        1 => format!("marks: {}", list(&random.some(&names.marks, 1))),
        2 => format!("without-marks: {}", list(&random.some(&names.marks, 1))),
        _ => format!("eve-of: {}", list(&random.some(&names.efforts, 2))),
    };
    format!("on: {{{filter}}}, ")
}
