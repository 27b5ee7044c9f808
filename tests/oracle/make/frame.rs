//! Random roles, parts, days, doses, loads and case fields, and a case.

use std::fmt::Write;

use super::random::{Random, list};
use super::select::{About, selector};
use super::{Names, Shape};

/// Roles, parts, efforts, marks, phases, layouts, tables, factors.
pub fn frame(random: &mut Random, names: &Names, shape: Shape) -> String {
    let [full, mend, plain, light] = names.roles.as_slice() else {
        panic!("four roles")
    };
    let mut text = format!(
        "roles:\n  {full}: {{help: half, trains-percent: 100, stress-percent: 100, gate: {{full-form: true}}}}\n"
    );
    let gate = match random.between(0, 3) {
        0 => String::new(),
        1 => String::from(", gate: {skill-in-focus: true}"),
        2 => format!(
            ", gate: {{best-effect-on-focus: {{at-least: {}}}}}",
            random.between(1, 4)
        ),
        _ => format!(
            ", gate: {{skill-in-focus: true, worst-effect-on-focus: {{at-least: {}}}}}",
            random.between(-4, -1)
        ),
    };
    writeln!(
        text,
        "  {mend}: {{help: whole, trains-percent: 100, stress-percent: 50{gate}}}"
    )
    .unwrap();
    writeln!(
        text,
        "  {plain}: {{help: half, trains-percent: 100, stress-percent: 100}}"
    )
    .unwrap();
    writeln!(
        text,
        "  {light}: {{help: half, trains-percent: {}, stress-percent: 0}}",
        random.between(0, 60)
    )
    .unwrap();

    let what = if random.percent(40) {
        format!(", what: {}", selector(random, names, About::Exercise))
    } else {
        String::new()
    };
    writeln!(
        text,
        "parts:\n  {}: {{roles: [{full}, {mend}, {plain}]}}",
        names.parts[0]
    )
    .unwrap();
    writeln!(
        text,
        "  {}: {{roles: [{mend}, {plain}, {light}]{what}}}",
        names.parts[1]
    )
    .unwrap();

    text.push_str("efforts:\n");
    for effort in &names.efforts {
        let (from, to) = (random.between(0, 50), random.between(50, 100));
        let (sets, reps) = (random.between(0, 100), random.between(0, 100));
        writeln!(text, "  {effort}: {{sets-at-percent: {sets}, reps-at-percent: {reps}, load-from-percent: {from}, load-to-percent: {to}}}").unwrap();
    }
    writeln!(
        text,
        "marks: {{{}: {{}}, {}: {{}}}}",
        names.marks[0], names.marks[1]
    )
    .unwrap();
    writeln!(
        text,
        "phases: {{{}: {{}}, {}: {{}}}}",
        names.phases[0], names.phases[1]
    )
    .unwrap();

    writeln!(
        text,
        "layouts:\n  {}:\n    when: {{phase: {}}}\n    days:",
        random.word(),
        list(&names.phases)
    )
    .unwrap();
    let mut day = 0;
    for left in (0..shape.days).rev() {
        day = random.between(day + 1, 7 - left);
        let effort = random.one(&names.efforts);
        let marks = if random.percent(50) {
            random.some(&names.marks, 1)
        } else {
            vec![]
        };
        writeln!(
            text,
            "      - day: {day}\n        effort: {effort}\n        marks: {}\n        parts:",
            list(&marks)
        )
        .unwrap();
        let parts = if shape.days == 3 && random.percent(30) {
            1
        } else {
            2
        };
        for part in &names.parts[..parts] {
            let at_least = if random.percent(60) {
                random.between(0, shape.in_a_part)
            } else {
                0
            };
            let yields = *random.one(&["never", "last", "middle", "first"]);
            writeln!(
                text,
                "          - {{part: {part}, at-least: {at_least}, at-most: {}, yields: {yields}}}",
                shape.in_a_part
            )
            .unwrap();
        }
    }

    text.push_str("tables:\n");
    for table in &names.tables {
        let (first, second) = (random.between(3, 6), random.between(1, 2));
        let (to, more) = (random.between(1, 4), random.between(1, 4));
        writeln!(text, "  {table}: {{below-zero: {}, steps: [{{to: {to}, each: {first}}}, {{to: {}, each: {second}}}]}}", random.between(6, 8), to + more).unwrap();
    }
    let [by_phase, by_choice, by_number] = names.factors.as_slice() else {
        panic!("three factors")
    };
    writeln!(
        text,
        "factors:\n  by-phase: {{{by_phase}: {{percents: {{{}: {}}}}}}}",
        names.phases[0],
        random.between(40, 160)
    )
    .unwrap();
    writeln!(
        text,
        "  by-choice: {{{by_choice}: {{field: {}, percents: {{{}: {}}}}}}}",
        names.choice,
        names.choices[0],
        random.between(40, 160)
    )
    .unwrap();
    let (from, more) = (random.between(1, 3), random.between(1, 3));
    let (low, high) = (random.between(40, 80), random.between(80, 150));
    writeln!(text, "  by-number: {{{by_number}: {{field: {}, steps: [{{from: {from}, percent: {low}}}, {{from: {}, percent: {high}}}]}}}}", names.number, from + more).unwrap();
    text
}

/// Doses, pieces, bars and zones.
pub fn loads(random: &mut Random, names: &Names) -> String {
    let mut text = String::from("doses:\n");
    for (at, dose) in names.doses.iter().enumerate() {
        let mut span = |from: i64, to: i64, more: i64| {
            let from = random.between(from, to);
            format!("{{from: {from}, to: {}}}", from + random.between(0, more))
        };
        let (sets, reps, percent, rest) = (
            span(2, 4, 3),
            span(1, 4, 3),
            span(55, 75, 25),
            span(30, 90, 90),
        );
        let load = if at == 2 {
            String::new()
        } else {
            format!("percent-of-reference: {percent}, ")
        };
        writeln!(
            text,
            "  {dose}: {{sets: {sets}, reps: {reps}, {load}rest-seconds: {rest}, set-seconds: {}}}",
            random.between(15, 60)
        )
        .unwrap();
    }
    let (measure, bar) = (random.word(), random.word());
    writeln!(text, "measures:\n  {measure}: {{unit: u, in-pairs: true, pieces: [{{weight: 20, full-diameter: true}}, {{weight: 10, full-diameter: true}}, {{weight: 5}}, {{weight: 1.25}}]}}").unwrap();
    writeln!(
        text,
        "bars:\n  {bar}: {{measure: {measure}, weight: {}, collar: {}}}\n  zz-light: {{measure: {measure}, weight: 7.5, collar: 0}}",
        random.one(&["20", "12.5"]),
        random.one(&["0", "2.5"])
    )
    .unwrap();
    let middle = random.between(60, 80);
    let (low, high) = (random.between(8, 16), random.between(4, 12));
    let (low_set, high_set) = (random.between(2, 5), random.between(1, 3));
    writeln!(text, "zone-tables:\n  {}:\n    zones:", names.zone_table).unwrap();
    writeln!(text, "      {}: {{percent: {{at-most: {}}}, reps-per-set: {{from: 1, to: {low_set}}}, total: {{from: 2, to: {low}}}}}", random.word(), middle - 1).unwrap();
    writeln!(text, "      {}: {{percent: {{at-least: {middle}}}, reps-per-set: {{from: 1, to: {high_set}}}, total: {{from: 2, to: {high}}}}}", random.word()).unwrap();
    text
}

/// Case fields. Only the list has a value where nothing is said.
pub fn fields(names: &Names) -> String {
    let mut text = format!(
        "case-fields:\n  one-of:\n    {}: {{values: {}, by-skill: true}}\n",
        names.choice,
        list(&names.choices)
    );
    writeln!(text, "  whole:\n    {}: {{from: 1, to: 9}}", names.number).unwrap();
    text.push_str(super::days::FIELDS);
    writeln!(
        text,
        "  some-of:\n    {}: {{values: {}, if-missing: []}}",
        names.several,
        list(&names.severals)
    )
    .unwrap();
    writeln!(text, "  dates:\n    {}: {{}}", names.date).unwrap();
    text
}

/// A case.
pub fn case(random: &mut Random, names: &Names) -> String {
    let mut text = format!(
        "format: 1\ncase:\n  today: \"2026-02-20\"\n  phase: {}\n  faults:\n",
        random.one(&names.phases)
    );
    let faults = random.some(&names.faults, 2);
    for fault in &faults {
        writeln!(
            text,
            "    - {{fault: {fault}, grade: {}}}",
            random.one(&names.grades)
        )
        .unwrap();
    }
    if random.percent(40) {
        writeln!(text, "  observed: [{}]", names.observations[1]).unwrap();
    }
    if random.percent(50) {
        writeln!(
            text,
            "  measured: {{{}: {}}}",
            names.measure,
            random.between(-5, 15)
        )
        .unwrap();
    }
    if random.percent(20) {
        writeln!(
            text,
            "  ruled-out: [{}]",
            random.one(&names.movement_causes)
        )
        .unwrap();
    }
    if random.percent(80) {
        let mut bests = format!("{}: {}", names.references[0], random.between(40, 160));
        if random.percent(60) {
            write!(
                bests,
                ", {}: {}.5",
                names.references[1],
                random.between(40, 160)
            )
            .unwrap();
        }
        writeln!(text, "  bests: {{{bests}}}").unwrap();
    }
    let gym: Vec<String> = [
        (random.percent(30), String::from("collars: false, pairs: [{weight: 20, pairs: 1}, {weight: 5, pairs: 2}, {weight: 1.25, pairs: 1}]")),
        (random.percent(40), String::from("other-bars: [zz-light]")),
    ]
    .into_iter()
    .filter_map(|(is_said, said)| is_said.then_some(said))
    .collect();
    if !gym.is_empty() {
        writeln!(text, "  gym: {{{}}}", gym.join(", ")).unwrap();
    }
    if random.percent(50) {
        writeln!(text, "  new: {}", list(&random.some(&names.exercises, 3))).unwrap();
    }
    if random.percent(50) {
        writeln!(
            text,
            "  disliked: {}",
            list(&random.some(&names.exercises, 2))
        )
        .unwrap();
    }
    let mut fields = Vec::new();
    if random.percent(60) {
        fields.push(format!("{}: {}", names.choice, random.one(&names.choices)));
    }
    if random.percent(60) {
        fields.push(format!("{}: {}", names.number, random.between(1, 9)));
    }
    if random.percent(50) {
        fields.push(format!(
            "{}: {}",
            names.several,
            list(&random.some(&names.severals, 2))
        ));
    }
    if random.percent(50) {
        fields.push(format!(
            "{}: \"2026-03-{:02}\"",
            names.date,
            random.between(1, 31)
        ));
    }
    if !fields.is_empty() {
        writeln!(text, "  fields: {{{}}}", fields.join(", ")).unwrap();
    }
    if random.percent(40) {
        writeln!(
            text,
            "  by-skill: {{{}: {{{}: {}}}}}",
            random.one(&names.skills),
            names.choice,
            random.one(&names.choices)
        )
        .unwrap();
    }
    if random.percent(40) {
        let of = random.between(2, 12);
        let seen = random.between(1, of);
        text = text.replacen("}\n", &format!(", seen: {seen}, of: {of}}}\n"), 1);
    }
    if random.percent(40) {
        let start = random.between(70, 100);
        text = text.replacen("}\n", &format!(", from-percent: {start}}}\n"), 1);
    }
    if random.percent(50) {
        let tried: Vec<String> = random
            .some(&names.exercises, 3)
            .iter()
            .map(|id| {
                let came = random.one(&["better", "learned", "same", "worse"]);
                format!("{{exercise: {id}, came: {came}}}")
            })
            .collect();
        writeln!(text, "  tried: [{}]", tried.join(", ")).unwrap();
    }
    if random.percent(50) {
        let some = random.some(&names.exercises, 3);
        writeln!(text, "  did-last-week: {}", list(&some)).unwrap();
    }
    if random.percent(50) {
        // The first best gets a day: 26 to 238 days before today.
        let (month, day) = (random.between(7, 12), random.between(1, 25));
        let before = format!("bests: {{{}: ", names.references[0]);
        if let Some((front, rest)) = text.clone().split_once(&before) {
            let end = rest.find([',', '}']).unwrap();
            let (weight, rest) = rest.split_at(end);
            text = format!(
                "{front}{before}{{weight: {weight}, on: \"2025-{month:02}-{day:02}\"}}{rest}"
            );
        }
    }
    if random.percent(30) {
        let (skill, cause) = random.one(&names.behind);
        if !text.contains(&format!("ruled-out: [{cause}]")) {
            writeln!(text, "  sure-of: [{{cause: {cause}, skill: {skill}}}]").unwrap();
        }
    }
    text
}

/// What a case says of the week before, to stand behind the rest.
pub fn week_before(random: &mut Random, names: &Names) -> String {
    if random.percent(25) {
        return String::new();
    }
    let lines: Vec<String> = (0..random.between(1, 5))
        .map(|_| {
            let (exercise, role) = (random.one(&names.exercises), random.one(&names.roles));
            let (sets, reps) = (random.between(1, 6), random.between(1, 5));
            let mut more = String::new();
            if random.percent(80) {
                write!(more, ", percent: {}", random.between(50, 90)).unwrap();
            }
            if random.percent(70) {
                write!(more, ", weeks: {}", random.between(1, 5)).unwrap();
            }
            format!("{{exercise: {exercise}, role: {role}, sets: {sets}, reps: {reps}{more}}}")
        })
        .collect();
    format!("  week-before: [{}]\n", lines.join(", "))
}
