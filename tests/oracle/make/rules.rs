//! Random rules of every kind.

use std::collections::BTreeMap;
use std::fmt::Write;

use super::random::{Random, list};
use super::select::{About, flat, on_days, selector, when};
use super::{Names, Shape};

/// Rules by kind, and what is needed to make more.
struct Rules<'a> {
    names: &'a Names,
    shape: Shape,
    by_kind: BTreeMap<&'static str, String>,
}

impl Rules<'_> {
    fn put(&mut self, kind: &'static str, body: &str, random: &mut Random) -> String {
        let id = random.word();
        let when = when(random, self.names, kind != "focus");
        let rules = self.by_kind.entry(kind).or_default();
        writeln!(rules, "    {id}: {{{when}{body}}}").unwrap();
        id
    }

    /// Always speaks.
    fn put_always(&mut self, kind: &'static str, body: &str, random: &mut Random) -> String {
        let id = random.word();
        writeln!(
            self.by_kind.entry(kind).or_default(),
            "    {id}: {{{body}}}"
        )
        .unwrap();
        id
    }

    fn yields(&self, random: &mut Random) -> &'static str {
        if random.percent(if self.shape.tight { 60 } else { 8 }) {
            "never"
        } else {
            let level = usize::try_from(random.between(0, 2)).unwrap();
            ["last", "middle", "first"][level]
        }
    }

    fn unit(random: &mut Random) -> String {
        if random.percent(30) {
            format!("unit: {}, ", random.between(2, 3))
        } else {
            String::new()
        }
    }

    fn scaled(&self, random: &mut Random) -> String {
        if random.percent(40) {
            format!(
                "scaled-by: {}, ",
                list(&random.some(&self.names.factors, 2))
            )
        } else {
            String::new()
        }
    }

    fn bounds(
        random: &mut Random,
        least: &str,
        most: &str,
        low: (i64, i64),
        high: (i64, i64),
    ) -> String {
        match random.between(0, 2) {
            0 => format!("{least}: {}, ", random.between(low.0, low.1)),
            1 => format!("{most}: {}, ", random.between(high.0, high.1)),
            _ => format!("{least}: {}, {most}: {}, ", low.0, high.1.max(low.0)),
        }
    }
}

/// All rules of a pack.
pub fn rules(
    random: &mut Random,
    names: &Names,
    shape: Shape,
    of_days: &[(&'static str, String)],
) -> String {
    let mut rules = Rules {
        names,
        shape,
        by_kind: BTreeMap::new(),
    };
    of_the_case(random, &mut rules);
    of_items(random, &mut rules);
    let kinds: [fn(&mut Random, &mut Rules<'_>); 5] =
        [of_sessions, of_order, of_two_days, of_weeks, of_worth];
    for kind in kinds {
        kind(random, &mut rules);
    }
    for (kind, rule) in of_days {
        let held = rules.by_kind.entry(kind).or_default();
        writeln!(held, "    day-{kind}: {rule}").unwrap();
    }
    let kinds: Vec<String> = rules
        .by_kind
        .iter()
        .map(|(kind, rules)| format!("  {kind}:\n{rules}"))
        .collect();
    format!("rules:\n{}", kinds.concat())
}

/// At most one rule about how often a fault was seen, to stand behind the others.
pub fn how_often(random: &mut Random, names: &Names) -> String {
    if random.percent(30) {
        return String::new();
    }
    let of = if random.percent(40) {
        format!("faults: [{}], ", random.one(&names.faults))
    } else {
        String::new()
    };
    let (from, more) = (random.between(10, 40), random.between(10, 40));
    let (some, most) = (random.between(20, 80), random.between(80, 100));
    format!(
        "  how-often:\n    {}: {{{of}steps: [{{from: {from}, percent: {some}}}, {{from: {}, percent: {most}}}]}}\n",
        random.word(),
        from + more
    )
}

/// Rules that look at the week before, and one that moves loads, to stand behind the others.
pub fn of_the_week_before(random: &mut Random, names: &Names) -> String {
    let known = |random: &mut Random| match random.between(0, 3) {
        0 => format!("{{roles: {}}}", list(&random.some(&names.roles, 2))),
        1 => format!("{{skills: {}}}", list(&random.some(&names.skills, 2))),
        2 => String::from("{percent: {at-least: 65}}"),
        _ => String::from("{everything: true}"),
    };
    let level = |random: &mut Random| *random.one(&["last", "middle", "first"]);
    let mut text = String::new();
    if random.percent(60) {
        let (what, yields) = (known(random), level(random));
        let (id, weeks) = (random.word(), random.between(2, 4));
        writeln!(
            text,
            "  kept:\n    {id}: {{what: {what}, weeks: {weeks}, yields: {yields}}}"
        )
        .unwrap();
    }
    if random.percent(50) {
        let (id, points) = (random.word(), *random.one(&[-8, -3, 2, 5]));
        let what = known(random).replace("{percent: {at-least: 65}}", "{alone: true}");
        writeln!(
            text,
            "  load-step:\n    {id}: {{what: {what}, points: {points}}}"
        )
        .unwrap();
    }
    if random.percent(60) {
        let (of, to, yields) = (known(random), known(random), level(random));
        let counted = *random.one(&["items", "sets", "reps"]);
        let bounds = Rules::bounds(random, "down-at-most", "up-at-most", (0, 30), (0, 30));
        let (id, unit) = (random.word(), Rules::unit(random));
        writeln!(
            text,
            "  shift:\n    {id}: {{of: {of}, to: {to}, counted-in: {counted}, {bounds}{unit}yields: {yields}}}"
        )
        .unwrap();
    }
    text
}

fn of_the_case(random: &mut Random, rules: &mut Rules<'_>) {
    let names = rules.names;
    let speak = *random.one(&[0, 0, 1, 1, 1, 1, 2]);
    for _ in 0..speak {
        let in_all = if random.percent(50) {
            format!(", in-all-at-most: {}", random.between(1, 3))
        } else {
            String::new()
        };
        let least = if random.percent(50) {
            format!(", demand-at-least: {}", random.between(10, 60))
        } else {
            String::new()
        };
        rules.put(
            "focus",
            &format!("per-skill-at-most: {}{in_all}{least}", random.between(1, 2)),
            random,
        );
    }
    for _ in 0..random.between(0, 2) {
        let (from, to) = if random.percent(50) { (0, 1) } else { (1, 0) };
        let causes = list(&random.some(&names.movement_causes, 2));
        let (from, to) = (&names.skills[from], &names.skills[to]);
        rules.put(
            "carry-over",
            &format!(
                "from: {from}, to: {to}, causes: {causes}, percent: {}",
                random.between(20, 100)
            ),
            random,
        );
    }
    if random.percent(60) {
        let other = names.training_roots.first().filter(|_| random.percent(50));
        let or_of = other.map_or_else(String::new, |root| format!("or-of: [{root}], "));
        rules.put(
            "fullest",
            &format!(
                "of: {}, {or_of}when-ruled-out-by: [{}]",
                names.full_form, names.several
            ),
            random,
        );
        if random.percent(50) {
            rules.put(
                "exclude",
                &format!("what: {{exercises: [{}]}}, yields: never", names.full_form),
                random,
            );
        }
    }
    if random.percent(40) {
        let what = selector(random, names, About::Dosed);
        rules.put("caution", &format!("what: {what}"), random);
    }
    for _ in 0..random.between(1, 2) {
        let body = format!(
            "warm-up-seconds: {}, changeover-seconds: {}",
            random.between(0, 300),
            random.between(0, 90)
        );
        rules.put("timing", &body, random);
    }
}

fn of_items(random: &mut Random, rules: &mut Rules<'_>) {
    let names = rules.names;
    let base = rules.put_always(
        "dose",
        &format!("what: {{everything: true}}, give: {}", names.doses[0]),
        random,
    );
    let mut replaced = vec![base];
    for dose in &names.doses[1..] {
        if random.percent(60) {
            let what = selector(random, names, About::Placed);
            let id = rules.put(
                "dose",
                &format!(
                    "what: {what}, give: {dose}, instead-of: {}",
                    list(&replaced)
                ),
                random,
            );
            replaced.push(id);
        }
    }
    for _ in 0..random.between(0, 2) {
        let what = selector(random, names, About::Placed);
        rules.put(
            "trim",
            &format!(
                "what: {what}, sets-fewer: 1, sets-at-least: {}",
                random.between(1, 2)
            ),
            random,
        );
    }
    for _ in 0..random.between(0, 3) {
        let what = selector(random, names, About::Placed);
        let cap = if random.percent(50) {
            "percent-of-reference-at-most"
        } else {
            "percent-of-own-highest-at-most"
        };
        rules.put(
            "cap",
            &format!("what: {what}, {cap}: {}", random.between(60, 85)),
            random,
        );
    }
    for _ in 0..random.between(1, 2) {
        let what = selector(random, names, About::Dosed);
        let steps = format!(
            "[{{from-percent: 0, seconds: {}}}, {{from-percent: {}, seconds: {}}}]",
            random.between(0, 60),
            random.between(60, 80),
            random.between(60, 300)
        );
        rules.put("ramp", &format!("what: {what}, steps: {steps}"), random);
    }
    if random.percent(40) {
        let what = flat(random, names, About::Placed);
        let least = if random.percent(50) {
            String::from("lightest-full-diameter: true")
        } else {
            format!("at-least: {}", random.between(25, 60))
        };
        rules.put("least-load", &format!("what: {what}, {least}"), random);
    }
    // A hard one speaks of exercises, or of roles beside them, or of some days only: one that asks
    // on every day where something does not stand is refused.
    for _ in 0..random.between(0, 2) {
        let body = match random.between(0, 2) {
            0 => format!("what: {}", flat(random, names, About::Bare)),
            1 => format!(
                "what: {{roles: [{}], skills: [{}]}}",
                random.one(&names.roles),
                random.one(&names.skills)
            ),
            _ => format!(
                "on: {{efforts: [{}]}}, what: {}",
                random.one(&names.efforts),
                flat(random, names, About::Dosed)
            ),
        };
        rules.put("exclude", &format!("{body}, yields: never"), random);
    }
    for _ in 0..random.between(0, 2) {
        let (on, what) = (
            on_days(random, names),
            selector(random, names, About::Dosed),
        );
        let yields = *random.one(&["last", "middle", "first"]);
        rules.put(
            "exclude",
            &format!("{on}what: {what}, yields: {yields}"),
            random,
        );
    }
}

fn of_sessions(random: &mut Random, rules: &mut Rules<'_>) {
    let names = rules.names;
    if random.percent(40) {
        let (on, what) = (
            on_days(random, names),
            selector(random, names, About::Placed),
        );
        let same = *random.one(&["skill", "root", "parent"]);
        let yields = rules.yields(random);
        rules.put(
            "alike",
            &format!("{on}what: {what}, same: {same}, at-most: 1, yields: {yields}"),
            random,
        );
    }
    for _ in 0..random.between(1, 2) {
        let (on, what) = (
            on_days(random, names),
            selector(random, names, About::Dosed),
        );
        let (counted, low, high) = match random.between(0, 3) {
            0 => ("counted-in: sets, ", (2, 6), (2, 6)),
            1 => ("counted-in: reps, ", (4, 20), (6, 20)),
            2 => ("counted-in: days, ", (1, 1), (0, 1)),
            _ => ("", (1, 2), (0, 2)),
        };
        let bounds = Rules::bounds(random, "at-least", "at-most", low, high);
        let (unit, scaled, yields) = (
            Rules::unit(random),
            rules.scaled(random),
            rules.yields(random),
        );
        rules.put(
            "count",
            &format!(
                "{on}what: {what}, per: session, {counted}{bounds}{unit}{scaled}yields: {yields}"
            ),
            random,
        );
    }
    if random.percent(50) {
        let on = on_days(random, names);
        let (unit, yields) = (Rules::unit(random), rules.yields(random));
        let of = random.one(&names.stresses).clone();
        rules.put(
            "stress",
            &format!(
                "{on}of: {of}, per: session, at-most: {}, {unit}yields: {yields}",
                random.between(1, 5)
            ),
            random,
        );
    }
    if random.percent(60) {
        let (on, yields) = (on_days(random, names), rules.yields(random));
        let bound = match random.between(0, 2) {
            0 => format!("at-least: {{whole: {}}}", random.between(5, 15)),
            1 => format!("at-most: {{whole: {}}}", random.between(8, 25)),
            _ => format!(
                "at-most: {{field: {}, percent: {}}}",
                names.number,
                random.between(90, 200)
            ),
        };
        let unit = if random.percent(50) {
            String::from("unit: 2, ")
        } else {
            String::new()
        };
        rules.put(
            "minutes",
            &format!("{on}{bound}, {unit}yields: {yields}"),
            random,
        );
    }
    if random.percent(50) {
        let (what, than) = (
            selector(random, names, About::Placed),
            selector(random, names, About::Placed),
        );
        let against = *random.one(&["low", "top"]);
        let yields = rules.yields(random);
        rules.put("lighter", &format!("what: {what}, than: {than}, against: {against}, above-at-most: {}, yields: {yields}", random.between(0, 4)), random);
    }
    if random.percent(50) {
        let (what, needs) = (
            selector(random, names, About::Placed),
            selector(random, names, About::Placed),
        );
        let yields = rules.yields(random);
        rules.put(
            "needs",
            &format!(
                "what: {what}, needs: {needs}, same-skill: {}, yields: {yields}",
                random.percent(40)
            ),
            random,
        );
    }
    if random.percent(50) {
        let (what, yields) = (selector(random, names, About::Placed), rules.yields(random));
        let together = *random.one(&["item", "skill", "session"]);
        let unit = Rules::unit(random);
        rules.put(
            "volume",
            &format!(
                "what: {what}, table: {}, together: {together}, {unit}yields: {yields}",
                names.zone_table
            ),
            random,
        );
    }
}

fn of_order(random: &mut Random, rules: &mut Rules<'_>) {
    let names = rules.names;
    let two = |random: &mut Random| {
        (
            selector(random, names, About::Placed),
            selector(random, names, About::Placed),
        )
    };
    if random.percent(45) {
        let (what, which) = two(random);
        let (side, yields) = (*random.one(&["before", "after"]), rules.yields(random));
        rules.put(
            "adjacent",
            &format!(
                "what: {what}, directly: {side}, which: {which}, same-skill: {}, yields: {yields}",
                random.percent(40)
            ),
            random,
        );
    }
    if random.percent(60) {
        let (first, then) = two(random);
        let yields = rules.yields(random);
        // What asks the same of both asks for nothing.
        let then = if then == first {
            String::from("{alone: true}")
        } else {
            then
        };
        rules.put(
            "before",
            &format!(
                "first: {first}, then: {then}, same-skill: {}, yields: {yields}",
                random.percent(30)
            ),
            random,
        );
    }
    if random.percent(45) {
        let (what, _) = two(random);
        let (end, of, yields) = (
            *random.one(&["first", "last"]),
            *random.one(&["session", "part"]),
            rules.yields(random),
        );
        rules.put(
            "position",
            &format!("what: {what}, where: {end}, of: {of}, yields: {yields}"),
            random,
        );
    }
    if random.percent(60) {
        let (what, by) = two(random);
        let within = if random.percent(60) {
            "week"
        } else {
            "session"
        };
        let yields = rules.yields(random);
        let closer = if random.percent(50) {
            format!("closer-by: {}, ", random.between(1, 3))
        } else {
            String::new()
        };
        rules.put(
            "followed",
            &format!("what: {what}, by: {by}, within: {within}, {closer}yields: {yields}"),
            random,
        );
    }
}

fn of_two_days(random: &mut Random, rules: &mut Rules<'_>) {
    let names = rules.names;
    if random.percent(60) {
        let (what, from) = (
            selector(random, names, About::Placed),
            selector(random, names, About::Placed),
        );
        let mut more = format!(
            "free-days: {}, way: {}, ",
            random.between(1, 5),
            random.one(&["either", "after"])
        );
        for key in ["same-skill", "same-exercise", "wraps"] {
            if random.percent(30) {
                write!(more, "{key}: {}, ", random.percent(50)).unwrap();
            }
        }
        let yields = rules.yields(random);
        rules.put(
            "apart",
            &format!("what: {what}, from: {from}, {more}yields: {yields}"),
            random,
        );
    }
    if random.percent(60) {
        let (what, yields) = (selector(random, names, About::Placed), rules.yields(random));
        rules.put(
            "differ",
            &format!(
                "what: {what}, shared-at-most: {}, yields: {yields}",
                random.between(0, 1)
            ),
            random,
        );
    }
}

fn of_weeks(random: &mut Random, rules: &mut Rules<'_>) {
    let names = rules.names;
    for _ in 0..random.between(1, 3) {
        let (on, what) = (
            on_days(random, names),
            selector(random, names, About::Dosed),
        );
        let (counted, low, high) = match random.between(0, 3) {
            0 => ("counted-in: sets, ", (3, 10), (3, 10)),
            1 => ("counted-in: reps, ", (8, 40), (8, 40)),
            2 => ("counted-in: days, ", (1, 2), (0, 1)),
            _ => ("", (1, 3), (0, 3)),
        };
        let bounds = Rules::bounds(random, "at-least", "at-most", low, high);
        let (unit, scaled, yields) = (
            Rules::unit(random),
            rules.scaled(random),
            rules.yields(random),
        );
        rules.put(
            "count",
            &format!(
                "{on}what: {what}, per: week, {counted}{bounds}{unit}{scaled}yields: {yields}"
            ),
            random,
        );
    }
    for _ in 0..random.between(0, 2) {
        let (unit, scaled, yields) = (
            Rules::unit(random),
            rules.scaled(random),
            rules.yields(random),
        );
        let quality = random.one(&names.qualities).clone();
        rules.put(
            "floor",
            &format!(
                "quality: {quality}, points-at-least: {}, {unit}{scaled}yields: {yields}",
                random.between(2, 8)
            ),
            random,
        );
    }
    if random.percent(50) {
        let (of, to) = (
            selector(random, names, About::Placed),
            selector(random, names, About::Placed),
        );
        let counted = *random.one(&["items", "sets", "reps", "days"]);
        let bounds = Rules::bounds(
            random,
            "percent-at-least",
            "percent-at-most",
            (20, 60),
            (20, 60),
        );
        let (unit, yields) = (Rules::unit(random), rules.yields(random));
        rules.put(
            "proportion",
            &format!("of: {of}, to: {to}, counted-in: {counted}, {bounds}{unit}yields: {yields}"),
            random,
        );
    }
    if random.percent(50) {
        let what = selector(random, names, About::Placed);
        let bounds = Rules::bounds(random, "at-least-if-used", "at-most", (2, 2), (1, 2));
        let yields = rules.yields(random);
        rules.put(
            "repeat",
            &format!("what: {what}, {bounds}yields: {yields}"),
            random,
        );
    }
    if random.percent(50) {
        let on = on_days(random, names);
        let (unit, yields) = (Rules::unit(random), rules.yields(random));
        let of = random.one(&names.stresses).clone();
        rules.put(
            "stress",
            &format!(
                "{on}of: {of}, per: week, at-most: {}, {unit}yields: {yields}",
                random.between(2, 9)
            ),
            random,
        );
    }
}

fn of_worth(random: &mut Random, rules: &mut Rules<'_>) {
    let names = rules.names;
    rules.put_always("help-worth", &format!("table: {}", names.tables[0]), random);
    for _ in 0..random.between(0, 2) {
        let qualities = list(&random.some(&names.qualities, 2));
        let above = random.percent(50);
        rules.put(
            "quality-worth",
            &format!(
                "qualities: {qualities}, above-floor: {above}, table: {}",
                names.tables[1]
            ),
            random,
        );
    }
    for _ in 0..random.between(0, 3) {
        let (on, what) = (
            on_days(random, names),
            selector(random, names, About::Dosed),
        );
        let each = *random.one(&["item", "item", "set", "departure"]);
        let weight = *random.one(&[-3, -2, -1, 1, 2]);
        rules.put(
            "prefer",
            &format!("{on}what: {what}, weight: {weight}, each: {each}"),
            random,
        );
    }
}
