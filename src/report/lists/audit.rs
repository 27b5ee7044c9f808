//! What a written week comes to.

use serde::{Deserialize, Serialize};

use crate::explain::{Audit, AuditedLine, CauseServed, Change, Lack, Missed, Wrongly};
use crate::report::json::{FORMAT, document, this_format};
use crate::report::page::{Page, Tone};
use crate::report::words::{audited, capital, weekday};

document! {
    /// What a written week comes to.
    AuditDocument {
        /// The format, 1.
        #[serde(deserialize_with = "this_format")]
        #[cfg_attr(feature = "schema", schemars(range(min = 1, max = 1)))]
        format: u32,
        /// The fingerprint of the rules.
        rules: String,
        /// The label of the case; it may be empty.
        lifter: String,
        /// Whether the rules call it sound.
        sound: bool,
        /// For what they do not.
        wanting: Vec<String>,
        /// Units missed on the levels `last`, `middle` and `first`.
        missed: [i64; 3],
        /// In hundredths of a point.
        worth: i64,
        /// The best week's; null where there is none.
        best: Option<BestWeekDocument>,
        /// The lines of each day.
        lines: Vec<LineDocument>,
        /// What it does for each cause.
        causes: Vec<CauseServedDocument>,
        /// Hard units that it breaks and lines that may not stand, together.
        clashes: i64,
        /// Hard bounds that it breaks.
        broken: Vec<LackDocument>,
        /// What may not stand as it stands.
        wrong: Vec<WrongDocument>,
        /// Bounds that give way in it.
        lacks: Vec<LackDocument>,
        /// The change of one line that helps most.
        change: Option<ChangeDocument>,
    }
}

document! {
    /// What the best week comes to.
    BestWeekDocument {
        /// Units missed on the levels `last`, `middle` and `first`.
        missed: [i64; 3],
        /// In hundredths of a point.
        worth: i64,
        /// What is known of how good it is.
        proof: String,
    }
}

document! {
    /// A line of the week.
    LineDocument {
        /// The day, 1 to 7.
        day: u8,
        /// As it is written.
        written: String,
        /// The exercise that it means.
        exercise: String,
        /// Its name.
        name: String,
        /// The part that it was taken to stand in; null where none takes it.
        part: Option<String>,
        /// The role that it was taken to have.
        role: Option<String>,
        /// Sets and repetitions as written.
        dose: [i64; 2],
        /// Percent of the reference.
        percent: Option<[i64; 2]>,
        /// Sets and repetitions that the rules give there.
        usual: Option<[i64; 2]>,
        /// Percent that they give.
        usual_percent: Option<[i64; 2]>,
    }
}

document! {
    /// What the week does for a cause.
    CauseServedDocument {
        /// The skill.
        skill: String,
        /// The cause.
        cause: String,
        /// Its name.
        name: String,
        /// Its demand.
        demand: i64,
        /// In all, in half points.
        effect: i64,
        /// Exercises that help, with half points.
        helps: Vec<HelpDocument>,
        /// Exercises that feed it, with half points.
        harms: Vec<HelpDocument>,
        /// What works on it in the best week.
        best: Vec<String>,
    }
}

document! {
    /// What an exercise does.
    HelpDocument {
        /// The exercise.
        exercise: String,
        /// In half points.
        half_points: i64,
    }
}

document! {
    /// A bound that is missed.
    LackDocument {
        /// Whose bound, by its path in rule files.
        rule: String,
        /// The file.
        file: String,
        /// The line in it.
        line: u32,
        /// Why it is there.
        because: String,
        /// When it gives way: `never`, `last`, `middle` or `first`.
        level: String,
        /// Units missed.
        units: i64,
        /// The day, 1 to 7.
        day: Option<u8>,
    }
}

document! {
    /// Something that may not stand as it stands.
    WrongDocument {
        /// The day, 1 to 7.
        day: Option<u8>,
        /// The line's place in the day, counted from 0.
        at: Option<u64>,
        /// What is wrong.
        what: String,
        /// What in the rules says so.
        rules: Vec<String>,
    }
}

document! {
    /// The change of one line that helps most.
    ChangeDocument {
        /// The day, 1 to 7.
        day: u8,
        /// In words.
        says: String,
        /// Hard units broken and lines that may not stand then.
        clashes: i64,
        /// Units missed then on the levels `last`, `middle` and `first`.
        missed: [i64; 3],
        /// Worth then.
        worth: i64,
    }
}

const fn levels(missed: Missed) -> [i64; 3] {
    [missed.last, missed.middle, missed.first]
}

fn line(day: u8, held: &AuditedLine) -> LineDocument {
    let pair = |(one, other): (i64, i64)| [one, other];
    let stands = held.stands.as_ref();
    LineDocument {
        day,
        written: held.written.clone(),
        exercise: held.exercise.id.to_string(),
        name: held.exercise.name.clone(),
        part: stands.map(|(part, _)| part.id.to_string()),
        role: stands.map(|(_, role)| role.id.to_string()),
        dose: pair(held.dose),
        percent: held.percent.map(pair),
        usual: held.usual.map(pair),
        usual_percent: held.usual_percent.map(pair),
    }
}

fn lack(held: &Lack) -> LackDocument {
    LackDocument {
        rule: held.ruling.to_string(),
        file: held.place.file.to_string(),
        line: held.place.line,
        because: held.because.clone(),
        level: held.level.as_str().to_owned(),
        units: held.units,
        day: held.day,
    }
}

fn wrong(held: &Wrongly) -> WrongDocument {
    WrongDocument {
        day: held.day,
        at: held.at.and_then(|at| u64::try_from(at).ok()),
        what: held.what.clone(),
        rules: held.says.iter().map(|says| says.path.clone()).collect(),
    }
}

fn cause(held: &CauseServed) -> CauseServedDocument {
    let help = |all: &[(crate::explain::Called<crate::base::ExerciseId>, i64)]| {
        let all = all.iter().map(|(exercise, half_points)| HelpDocument {
            exercise: exercise.id.to_string(),
            half_points: *half_points,
        });
        all.collect()
    };
    CauseServedDocument {
        skill: held.skill.to_string(),
        cause: held.cause.id.to_string(),
        name: held.cause.name.clone(),
        demand: held.demand,
        effect: held.effect,
        helps: help(&held.helps),
        harms: help(&held.harms),
        best: held.best.iter().map(|held| held.id.to_string()).collect(),
    }
}

fn change(held: &Change) -> ChangeDocument {
    ChangeDocument {
        day: held.day,
        says: audited::change(held),
        clashes: held.clashes,
        missed: levels(held.missed),
        worth: held.worth,
    }
}

/// What a written week comes to, as a document.
#[must_use]
pub fn audit_document(audit: &Audit) -> AuditDocument {
    let lines = audit.days.iter();
    let lines = lines.flat_map(|(day, lines)| lines.iter().map(|held| line(*day, held)));
    AuditDocument {
        format: FORMAT,
        rules: audit.fingerprint.clone(),
        lifter: audit.lifter.clone(),
        sound: audit.soundness.is_sound,
        wanting: audit
            .soundness
            .wanting
            .iter()
            .map(audited::wanting)
            .collect(),
        missed: levels(audit.missed),
        worth: audit.worth,
        best: audit.best.as_ref().map(|best| BestWeekDocument {
            missed: levels(best.missed),
            worth: best.worth,
            proof: best.proof.as_str().to_owned(),
        }),
        lines: lines.collect(),
        causes: audit.causes.iter().map(cause).collect(),
        clashes: audit.clashes,
        broken: audit.broken.iter().map(lack).collect(),
        wrong: audit.wrong.iter().map(wrong).collect(),
        lacks: audit.lacks.iter().map(lack).collect(),
        change: audit.change.as_ref().map(change),
    }
}

/// What a written week comes to, as text in lines of at most 80 columns.
#[must_use]
pub fn audit_text(audit: &Audit, colour: bool) -> String {
    let mut page = Page::new(colour);
    page.say(0, &audited::head(audit), Tone::Strong);
    page.say(0, &audited::verdict(audit), Tone::Plain);
    for wanting in &audit.soundness.wanting {
        page.hang(2, "! ", &audited::wanting(wanting), Tone::Warning);
    }
    page.say(0, &audited::beside_the_best(audit), Tone::Plain);
    for (number, lines) in &audit.days {
        page.gap();
        page.say(0, &capital(&weekday(*number)), Tone::Strong);
        for (at, held) in lines.iter().enumerate() {
            page.say(2, &held.written, Tone::Plain);
            page.say(4, &audited::stands(held), Tone::Faint);
            if let Some(other) = audited::other_dose(held) {
                page.hang(4, "dose: ", &other, Tone::Plain);
            }
            let of_it = audit.wrong.iter();
            for wrong in of_it.filter(|held| held.day == Some(*number) && held.at == Some(at)) {
                page.hang(4, "! ", &audited::wrong(wrong), Tone::Warning);
            }
        }
    }
    let whole: Vec<String> = audit
        .wrong
        .iter()
        .filter(|held| held.at.is_none())
        .map(audited::wrong_on_day)
        .collect();
    if !(audit.broken.is_empty() && whole.is_empty()) {
        page.gap();
        page.say(0, "Clashes with what must hold", Tone::Strong);
        for held in &whole {
            page.hang(2, "! ", held, Tone::Warning);
        }
        for held in audited::lacks(&audit.broken) {
            page.hang(2, "! ", &held, Tone::Warning);
        }
    }
    if !audit.causes.is_empty() {
        page.gap();
        page.say(0, "What it does for what was seen", Tone::Strong);
        for held in &audit.causes {
            page.hang(
                2,
                &format!("{}: ", held.cause.name),
                &audited::served(held),
                Tone::Plain,
            );
        }
    }
    if !audit.lacks.is_empty() {
        page.gap();
        page.say(0, "What gives way in it", Tone::Strong);
        for held in audited::lacks(&audit.lacks) {
            page.hang(2, "- ", &held, Tone::Plain);
        }
    }
    page.gap();
    page.say(0, "The change of one line that helps most", Tone::Strong);
    match &audit.change {
        Some(held) => {
            page.say(2, &audited::change(held), Tone::Plain);
            page.say(2, &audited::after(audit, held), Tone::Faint);
        }
        None => page.say(
            2,
            "None: each of them leaves the week no better.",
            Tone::Plain,
        ),
    }
    page.gap();
    page.hang(0, "! ", audited::CAUTION, Tone::Warning);
    page.done()
}
