//! A case as the text of a case file.

use indexmap::IndexMap;

use crate::base::{At, CaseFieldId};
use crate::rules::case::{Best, CaseText, DoneBefore, FieldValue, SeenFault};

/// Values of case fields.
type Values = IndexMap<At<CaseFieldId>, At<FieldValue>>;

/// What a case says, as a case file; what it does not say is not there.
pub(super) fn case_text(case: &CaseText) -> String {
    let mut text = String::from("format: 1\ncase:\n");
    let mut line = |key: &str, value: &str| {
        let space = if value.starts_with('\n') { "" } else { " " };
        text.push_str(&format!("  {key}:{space}{value}\n"));
    };
    // Every field by name: a new one must say here how it is written.
    let CaseText {
        lifter,
        today,
        phase,
        layout,
        faults,
        observed,
        measured,
        ruled_out,
        sure_of,
        bests,
        gym,
        new,
        disliked,
        tried,
        did_last_week,
        week_before,
        training_days,
        fields,
        by_skill,
    } = case;
    if let Some(lifter) = lifter {
        line("lifter", &quoted(lifter));
    }
    if let Some(today) = today {
        line("today", &quoted(today));
    }
    if let Some(phase) = phase {
        line("phase", phase.as_str());
    }
    if let Some(layout) = layout {
        line("layout", layout.as_str());
    }
    if faults.is_empty() {
        line("faults", "[]");
    } else {
        line("faults", &below(faults.iter().map(|held| seen_fault(held))));
    }
    if !observed.is_empty() {
        line("observed", &below(observed.iter().map(|id| id.to_string())));
    }
    if !measured.is_empty() {
        let all = measured.iter();
        line(
            "measured",
            &lines(all.map(|(id, value)| (id.to_string(), value.to_string()))),
        );
    }
    if !ruled_out.is_empty() {
        line(
            "ruled-out",
            &below(ruled_out.iter().map(|id| id.to_string())),
        );
    }
    if !sure_of.is_empty() {
        let all = sure_of.iter().map(|held| {
            let skill = held
                .skill
                .as_ref()
                .map(|skill| ("skill", skill.to_string()));
            entry([("cause", held.cause.to_string())].into_iter().chain(skill))
        });
        line("sure-of", &below(all));
    }
    if !bests.is_empty() {
        let all = bests.iter();
        line(
            "bests",
            &lines(all.map(|(id, held)| (id.to_string(), best(held)))),
        );
    }
    let bar = gym.bar.as_ref().map(|bar| ("bar", bar.to_string()));
    let others = (!gym.other_bars.is_empty()).then(|| {
        (
            "other-bars",
            flow(gym.other_bars.iter().map(|bar| bar.to_string())),
        )
    });
    let collars = gym.collars.map(|on| ("collars", on.to_string()));
    let pairs = (!gym.pairs.is_empty()).then(|| {
        let all = gym.pairs.iter().map(|held| {
            entry([
                ("weight", held.weight.to_string()),
                ("pairs", held.pairs.to_string()),
            ])
        });
        ("pairs", flow(all))
    });
    let gym: Vec<_> = [bar, others, collars, pairs]
        .into_iter()
        .flatten()
        .collect();
    if !gym.is_empty() {
        line(
            "gym",
            &lines(gym.into_iter().map(|(key, value)| (key.to_owned(), value))),
        );
    }
    for (key, all) in [("new", new), ("disliked", disliked)] {
        if !all.is_empty() {
            line(key, &below(all.iter().map(|name| word(name))));
        }
    }
    if !tried.is_empty() {
        let all = tried.iter().map(|held| {
            entry([
                ("exercise", word(&held.exercise)),
                ("came", held.came.as_str().to_owned()),
            ])
        });
        line("tried", &below(all));
    }
    if !did_last_week.is_empty() {
        line(
            "did-last-week",
            &below(did_last_week.iter().map(|name| word(name))),
        );
    }
    if !week_before.is_empty() {
        line(
            "week-before",
            &below(week_before.iter().map(|held| before(held))),
        );
    }
    if !training_days.is_empty() {
        let all = training_days.iter();
        line(
            "training-days",
            &lines(all.map(|(day, held)| (day.value.to_string(), map(values(held))))),
        );
    }
    if !fields.is_empty() {
        line("fields", &lines(values(fields)));
    }
    if !by_skill.is_empty() {
        let all = by_skill.iter();
        line(
            "by-skill",
            &lines(all.map(|(skill, held)| (skill.to_string(), map(values(held))))),
        );
    }
    text
}

/// On lines of its own, as the page is no wider than others.
fn seen_fault(held: &SeenFault) -> String {
    let number = |key: &'static str, number: Option<String>| number.map(|number| (key, number));
    let all = [
        Some(("fault", held.fault.to_string())),
        number("skill", held.skill.as_ref().map(|skill| skill.to_string())),
        Some(("grade", held.grade.to_string())),
        number("seen", held.seen.as_ref().map(|seen| seen.to_string())),
        number("of", held.of.as_ref().map(|of| of.to_string())),
        number(
            "from-percent",
            held.from_percent.as_ref().map(|from| from.to_string()),
        ),
    ];
    let all = all.into_iter().flatten();
    let all: Vec<String> = all.map(|(key, value)| format!("{key}: {value}")).collect();
    all.join("\n      ")
}

fn before(held: &DoneBefore) -> String {
    let number = |key: &'static str, number: &Option<At<u16>>| {
        number.as_ref().map(|number| (key, number.to_string()))
    };
    let said = [
        ("exercise", word(&held.exercise)),
        ("role", held.role.to_string()),
        ("sets", held.sets.to_string()),
        ("reps", held.reps.to_string()),
    ];
    let more = [
        number("percent", &held.percent),
        number("weeks", &held.weeks),
    ];
    entry(said.into_iter().chain(more.into_iter().flatten()))
}

fn values(held: &Values) -> impl Iterator<Item = (String, String)> {
    held.iter().map(|(id, said)| (id.to_string(), value(said)))
}

fn best(held: &Best) -> String {
    match &held.on {
        None => held.weight.to_string(),
        Some(on) => entry([("weight", held.weight.to_string()), ("on", quoted(on))]),
    }
}

fn value(held: &FieldValue) -> String {
    match held {
        FieldValue::One(text) => word(text),
        FieldValue::Some(all) => flow(all.iter().map(|text| word(text))),
    }
}

/// The items of a list under their key, each on a line.
fn below(all: impl Iterator<Item = String>) -> String {
    all.map(|one| format!("\n    - {one}")).collect()
}

/// The entries of a map under their key, each on a line.
fn lines(all: impl Iterator<Item = (String, String)>) -> String {
    all.map(|(key, value)| format!("\n    {key}: {value}"))
        .collect()
}

fn flow(all: impl Iterator<Item = String>) -> String {
    let all: Vec<String> = all.collect();
    format!("[{}]", all.join(", "))
}

fn map(all: impl Iterator<Item = (String, String)>) -> String {
    let all: Vec<String> = all.map(|(key, value)| format!("{key}: {value}")).collect();
    format!("{{{}}}", all.join(", "))
}

fn entry(all: impl IntoIterator<Item = (&'static str, String)>) -> String {
    map(all.into_iter().map(|(key, value)| (key.to_owned(), value)))
}

/// A word as it is, where it is an id or a whole number and nothing else to any reader; else in quotes.
fn word(text: &str) -> String {
    let is_number = text
        .parse::<i64>()
        .is_ok_and(|number| number.to_string() == text);
    let is_id = text.starts_with(|c: char| c.is_ascii_lowercase())
        && text
            .chars()
            .all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-');
    let is_other = ["true", "false", "null", "yes", "no", "on", "off", "y", "n"].contains(&text);
    if is_number || (is_id && !is_other) {
        text.to_owned()
    } else {
        quoted(text)
    }
}

/// A text in double quotes, with what YAML writes otherwise in them.
fn quoted(text: &str) -> String {
    let mut out = String::from("\"");
    for c in text.chars() {
        match c {
            '"' | '\\' => {
                out.push('\\');
                out.push(c);
            }
            '\n' => out.push_str("\\n"),
            '\t' => out.push_str("\\t"),
            c if c.is_control() || matches!(c, '\u{feff}' | '\u{2028}' | '\u{2029}') => {
                out.push_str(&format!("\\u{:04x}", u32::from(c)));
            }
            c => out.push(c),
        }
    }
    out.push('"');
    out
}
