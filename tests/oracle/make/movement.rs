//! Random skills, constraints, exercises, causes and faults.

use std::collections::BTreeSet;
use std::fmt::Write;

use super::Names;
use super::random::{Random, list};

/// What an exercise holds of the two axes.
#[derive(Clone, Debug)]
struct Held {
    id: String,
    one: usize,
    many: BTreeSet<usize>,
}

fn points(random: &mut Random, ids: &[String], from: i64, to: i64, percent: i64) -> String {
    let mut all = Vec::new();
    for id in ids {
        let value = random.between(from, to);
        if value != 0 && random.percent(percent) {
            all.push(format!("{id}: {value}"));
        }
    }
    format!("{{{}}}", all.join(", "))
}

fn constraint(random: &mut Random, names: &Names, id: &str, free: bool) -> String {
    if free {
        return format!("      {id}: {{}}\n");
    }
    let effect = points(random, &names.movement_causes, -2, 3, 60);
    let mut text = format!(
        "      {id}: {{effect: {effect}, departs: {}",
        random.between(0, 3)
    );
    if random.percent(35) {
        write!(text, ", cuts: {}", list(&random.some(&names.stages, 2))).unwrap();
    }
    if random.percent(30) {
        text.push_str(", strong: true");
    }
    if random.percent(70) {
        write!(text, ", load-percent: {}", random.between(70, 105)).unwrap();
    }
    write!(
        text,
        ", trains: {}",
        points(random, &names.qualities, -1, 2, 40)
    )
    .unwrap();
    writeln!(
        text,
        ", stress: {}}}",
        points(random, &names.stresses, -1, 2, 40)
    )
    .unwrap();
    text
}

/// Skills, references, axes and exercises.
pub fn exercises(random: &mut Random, names: &mut Names) -> String {
    let of_skills = [random.some(&names.stages, 4), random.some(&names.stages, 4)];
    names
        .stages
        .retain(|stage| of_skills.concat().contains(stage));
    let mut text = format!(
        "skills:\n  {}: {{stages: {}, reference: {}}}\n  {}: {{stages: {}",
        names.skills[0],
        list(&of_skills[0]),
        names.references[0],
        names.skills[1],
        list(&of_skills[1]),
    );
    // Some work has nothing that its load could be a percent of.
    if random.percent(85) {
        write!(text, ", reference: {}", names.references[1]).unwrap();
    }
    text.push_str("}\n");
    let instead = format!(
        "{{instead: [{{from: {}, percent: {}}}]}}",
        names.references[0],
        random.between(60, 130)
    );
    writeln!(
        text,
        "references:\n  {}: {{}}\n  {}: {instead}",
        names.references[0], names.references[1]
    )
    .unwrap();

    let (one, many) = (random.words(3), random.words(3));
    names.constraints = one.iter().chain(&many).cloned().collect();
    writeln!(
        text,
        "axes:\n  {}:\n    holds: one\n    unset: {}\n    constraints:",
        random.word(),
        one[0]
    )
    .unwrap();
    for (at, id) in one.iter().enumerate() {
        text.push_str(&constraint(random, names, id, at == 0));
    }
    writeln!(
        text,
        "  {}:\n    holds: many\n    constraints:",
        random.word()
    )
    .unwrap();
    for id in &many {
        text.push_str(&constraint(random, names, id, false));
    }

    let mut held: Vec<Held> = Vec::new();
    text.push_str("exercises:\n  roots:\n");
    for at in 0..random.between(2, 3) {
        let first = at == 0;
        let id = random.word();
        let skills = if first {
            vec![names.skills[0].clone()]
        } else {
            random.some(&names.skills, 2)
        };
        let form = if first { "competition" } else { "training" };
        let roles = if at < 2 {
            vec![names.roles[0].clone(), names.roles[2].clone()]
        } else {
            random.some(&names.roles[1..], 2)
        };
        let many_held: BTreeSet<usize> = if first || random.percent(60) {
            BTreeSet::new()
        } else {
            [0].into()
        };
        let with: Vec<String> = many_held.iter().map(|at| many[*at].clone()).collect();
        write!(
            text,
            "    {id}: {{skills: {}, form: {form}, roles: {}",
            list(&skills),
            list(&roles)
        )
        .unwrap();
        write!(text, ", with: {}", list(&with)).unwrap();
        write!(
            text,
            ", trains: {}",
            points(random, &names.qualities, 0, 3, 70)
        )
        .unwrap();
        write!(
            text,
            ", stress: {}",
            points(random, &names.stresses, 0, 3, 70)
        )
        .unwrap();
        if random.percent(20) {
            write!(
                text,
                ", effect: {}",
                points(random, &names.movement_causes, -1, 2, 50)
            )
            .unwrap();
        }
        if random.percent(30) {
            write!(text, ", highest: {{percent: {}}}", random.between(80, 110)).unwrap();
        }
        if !first && random.percent(25) {
            write!(text, ", reference: {}", names.references[0]).unwrap();
        }
        text.push_str("}\n");
        if first {
            names.full_form.clone_from(&id);
        }
        held.push(Held {
            id,
            one: 0,
            many: many_held,
        });
    }
    let roots: BTreeSet<String> = held.iter().map(|held| held.id.clone()).collect();
    names.training_roots = held[1..].iter().map(|held| held.id.clone()).collect();
    // All under the judged form and under the second root may take its role, so that they can stand in.
    let mut may_stand_in = BTreeSet::from([held[0].id.clone(), held[1].id.clone()]);

    text.push_str("  variations:\n");
    let complexes = i64::from(random.percent(60));
    let count = random.between(6, 9) - i64::try_from(held.len()).unwrap() - complexes;
    while i64::try_from(held.len() - roots.len()).unwrap() < count {
        let parent = random.one(&held).clone();
        let mut this = Held {
            id: random.word(),
            ..parent.clone()
        };
        let (mut with, mut drops) = (Vec::new(), Vec::new());
        if random.percent(50) {
            this.one = usize::try_from(random.between(1, 2)).unwrap();
            if this.one != parent.one {
                with.push(one[this.one].clone());
            }
        } else if parent.one != 0 && random.percent(50) {
            this.one = 0;
            drops.push(one[parent.one].clone());
        }
        let at = usize::try_from(random.between(0, 2)).unwrap();
        if this.many.insert(at) {
            with.push(many[at].clone());
        } else if random.percent(50) {
            this.many.remove(&at);
            drops.push(many[at].clone());
        }
        let same = |other: &Held| other.one == this.one && other.many == this.many;
        if held.iter().any(same) {
            continue;
        }
        let full = may_stand_in.contains(&parent.id);
        if full {
            may_stand_in.insert(this.id.clone());
        }
        write!(
            text,
            "    {}: {{from: {}, with: {}",
            this.id,
            parent.id,
            list(&with)
        )
        .unwrap();
        if !drops.is_empty() {
            write!(text, ", drops: {}", list(&drops)).unwrap();
        }
        // Some can't take the place of a full form, so they never stand in.
        let roles = if full && random.percent(80) {
            [&names.roles[..1], &random.some(&names.roles[1..], 3)].concat()
        } else {
            random.some(&names.roles[1..], 3)
        };
        if full || random.percent(60) {
            write!(text, ", roles: {}", list(&roles)).unwrap();
        }
        if random.percent(25) {
            write!(text, ", highest: {{percent: {}}}", random.between(70, 100)).unwrap();
        }
        if random.percent(20) {
            write!(
                text,
                ", trains: {}",
                points(random, &names.qualities, 0, 3, 70)
            )
            .unwrap();
        }
        if random.percent(15) {
            write!(
                text,
                ", effect: {}",
                points(random, &names.movement_causes, -1, 2, 50)
            )
            .unwrap();
        }
        if random.percent(15) {
            write!(
                text,
                ", asks: {{case: {{{}: {{has-none: [{}]}}}}}}",
                names.several,
                random.one(&names.severals)
            )
            .unwrap();
        }
        text.push_str("}\n");
        held.push(this);
    }
    names.simple = held.iter().map(|held| held.id.clone()).collect();
    names.simple.sort();
    names.exercises = names.simple.clone();

    if complexes == 1 {
        let id = random.word();
        writeln!(text, "  complexes:\n    {id}:\n      components:").unwrap();
        for _ in 0..random.between(2, 3) {
            let does = random.one(&held).clone();
            let mut with = Vec::new();
            let at = usize::try_from(random.between(0, 2)).unwrap();
            if random.percent(20) && !does.many.contains(&at) {
                with.push(many[at].clone());
            }
            writeln!(
                text,
                "        - {{do: {}, reps: {}, with: {}}}",
                does.id,
                random.between(1, 2),
                list(&with)
            )
            .unwrap();
        }
        writeln!(
            text,
            "      percent-less: {}\n      roles: {}",
            random.between(0, 6),
            list(&random.some(&names.roles[1..], 3))
        )
        .unwrap();
        if random.percent(25) {
            writeln!(
                text,
                "      trains: {}",
                points(random, &names.qualities, -1, 3, 70)
            )
            .unwrap();
        }
        if random.percent(25) {
            writeln!(
                text,
                "      stress: {}",
                points(random, &names.stresses, -2, 3, 70)
            )
            .unwrap();
        }
        names.exercises.push(id);
        names.exercises.sort();
    }
    text
}

/// Faults, causes, observations, qualities and stresses.
pub fn diagnosis(random: &mut Random, names: &mut Names) -> String {
    let mut text = String::from("causes:\n  movement:\n");
    for (at, cause) in names.movement_causes.iter().enumerate() {
        let stages = list(&random.some(&names.stages, 2));
        let quality = random.one(&names.qualities);
        let opposes = if at == 1 && random.percent(40) {
            format!(", opposes: [{}]", names.movement_causes[0])
        } else {
            String::new()
        };
        writeln!(
            text,
            "    {cause}: {{stages: {stages}, develops: {quality}{opposes}}}"
        )
        .unwrap();
    }
    text.push_str("  capacity:\n");
    for cause in &names.capacity_causes {
        writeln!(
            text,
            "    {cause}: {{served-by: {}}}",
            list(&random.some(&names.qualities, 2))
        )
        .unwrap();
    }
    text.push_str("faults:\n");
    for (skill, fault) in names.faults.clone().iter().enumerate() {
        let skills = list(&names.skills[skill..=skill]);
        let grades = format!(
            "{{{}: {{severity: 1}}, {}: {{severity: 2}}}}",
            names.grades[0], names.grades[1]
        );
        writeln!(
            text,
            "  {fault}:\n    skills: {skills}\n    grades: {grades}\n    onset: {{{}: {}}}\n    causes:",
            names.observations[skill],
            80 + 10 * skill
        )
        .unwrap();
        let mut causes = random.some(&names.movement_causes, 2);
        if random.percent(40) {
            causes.extend(names.capacity_causes.clone());
        }
        let mut left = 100;
        for (at, cause) in causes.iter().enumerate() {
            let percent = if at + 1 == causes.len() {
                left
            } else {
                random.between(2, left / 2) / 5 * 5 + 5
            };
            left -= percent;
            let skill = names.skills[skill].clone();
            names.behind.push((skill, cause.clone()));
            write!(text, "      {cause}: {{percent: {percent}").unwrap();
            if random.percent(40) {
                write!(
                    text,
                    ", raised-by: {{{}: {}}}",
                    names.observations[0],
                    random.between(10, 40)
                )
                .unwrap();
            }
            if random.percent(20) {
                write!(text, ", ruled-out-by: [{}]", names.observations[1]).unwrap();
            }
            text.push_str("}\n");
        }
    }
    writeln!(text, "track-measures:\n  {}: {{}}", names.measure).unwrap();
    let measured = format!(
        "{{measured: {{by: {}, is: {{at-least: {}}}}}}}",
        names.measure,
        random.between(0, 9)
    );
    writeln!(
        text,
        "observations:\n  {}: {measured}\n  {}: {{}}",
        names.observations[0], names.observations[1]
    )
    .unwrap();
    text.push_str("qualities:\n");
    for quality in &names.qualities {
        let counts = if random.percent(40) {
            format!(
                "counts-when: {{percent: {{at-least: {}}}}}",
                random.between(55, 78)
            )
        } else {
            String::new()
        };
        writeln!(text, "  {quality}: {{{counts}}}").unwrap();
    }
    writeln!(
        text,
        "stresses: {{{}: {{}}, {}: {{}}}}",
        names.stresses[0], names.stresses[1]
    )
    .unwrap();
    text
}
