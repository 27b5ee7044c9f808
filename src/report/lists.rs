//! Faults, exercises, rankings, ladders and problems: as text and as documents.

use serde::{Deserialize, Serialize};

use crate::base::Diagnostic;
use crate::explain::{Called, Effect, ExerciseEntry, FaultEntry, Ranked, Rung};

use super::json::{FORMAT, PlaceDocument, document};
use super::page::{Page, Tone};
use super::words::{capital, spaced};

/// The most exercises that a ranking prints as text.
const MOST_RANKED: usize = 25;

document! {
    /// All faults of the rules.
    FaultsDocument {
        /// The format, 1.
        format: u32,
        /// The faults, by id.
        faults: Vec<FaultDocument>,
    }
}

document! {
    /// A fault.
    FaultDocument {
        /// Its id.
        id: String,
        /// Its name.
        name: String,
        /// Skills in which it is seen.
        skills: Vec<String>,
        /// Grades, mildest first.
        grades: Vec<GradeDocument>,
        /// Causes, the largest share first.
        causes: Vec<ShareDocument>,
        /// Why it matters.
        because: String,
    }
}

document! {
    /// A grade of a fault.
    GradeDocument {
        /// Its id.
        id: String,
        /// 1 (mild) to 3.
        severity: u8,
        /// What it looks like.
        says: String,
    }
}

document! {
    /// How much of a fault a cause explains.
    ShareDocument {
        /// The cause.
        cause: String,
        /// Its name.
        name: String,
        /// In percent.
        percent: u8,
    }
}

document! {
    /// Exercises: all by id, or ranked by what they help.
    ExercisesDocument {
        /// The format, 1.
        format: u32,
        /// The exercises.
        exercises: Vec<ExerciseDocument>,
    }
}

document! {
    /// An exercise.
    ExerciseDocument {
        /// Its id.
        id: String,
        /// Its name.
        name: String,
        /// What it is used for.
        used_for: String,
        /// Roles that it may take.
        roles: Vec<String>,
        /// Sum of what its constraints cost in likeness to the full form.
        departure: i64,
        /// In a ranking: sum of demand times net effect in half points.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        score: Option<i64>,
        /// In a ranking: what it does to each cause that was asked about.
        #[serde(default, skip_serializing_if = "Vec::is_empty")]
        effects: Vec<EffectDocument>,
        /// In a ranking: whether the case allows it.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        allowed: Option<bool>,
    }
}

document! {
    /// What an exercise does to a cause of a skill.
    EffectDocument {
        /// The skill.
        skill: String,
        /// The cause.
        cause: String,
        /// Its demand, 1 to 300.
        demand: i64,
        /// Net effect in half points; below 0 it feeds the cause.
        half_points: i64,
        /// The constraints that help most.
        by: Vec<String>,
    }
}

document! {
    /// From a drill to the full form.
    LadderDocument {
        /// The format, 1.
        format: u32,
        /// The rungs, the drill first.
        rungs: Vec<RungDocument>,
    }
}

document! {
    /// A rung of a ladder.
    RungDocument {
        /// The listed exercise, where there is one.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        exercise: Option<String>,
        /// Its name.
        name: String,
        /// The constraints that are still there.
        constraints: Vec<String>,
        /// What was freed since the rung before.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        freed: Option<String>,
        /// What the freed constraint does to the cause, -3 to 3.
        bears: i64,
        /// The most that can be done, in percent of the reference.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        highest: Option<i64>,
        /// Whether that is an estimate.
        estimate: bool,
    }
}

document! {
    /// What is wrong with rule files or a case.
    ProblemsDocument {
        /// The format, 1.
        format: u32,
        /// The problems, by place; none where all is well.
        problems: Vec<ProblemDocument>,
    }
}

document! {
    /// One problem.
    ProblemDocument {
        /// What kind of problem; stable.
        code: String,
        /// Where it is; absent where it is in no file.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        place: Option<PlaceDocument>,
        /// What it is.
        what: String,
        /// What would put it right.
        help: String,
    }
}

fn texts<I: ToString>(ids: &[I]) -> Vec<String> {
    ids.iter().map(ToString::to_string).collect()
}

fn names<I>(called: &[Called<I>]) -> String {
    called
        .iter()
        .map(|called| called.name.as_str())
        .collect::<Vec<_>>()
        .join(" and ")
}

/// All faults as a document.
#[must_use]
pub fn faults_document(faults: &[FaultEntry]) -> FaultsDocument {
    let all = faults.iter().map(|fault| FaultDocument {
        id: fault.id.to_string(),
        name: fault.name.clone(),
        skills: texts(&fault.skills),
        grades: fault
            .grades
            .iter()
            .map(|grade| GradeDocument {
                id: grade.id.to_string(),
                severity: grade.severity,
                says: grade.says.clone(),
            })
            .collect(),
        causes: fault
            .causes
            .iter()
            .map(|(cause, percent)| ShareDocument {
                cause: cause.id.to_string(),
                name: cause.name.clone(),
                percent: *percent,
            })
            .collect(),
        because: fault.because.clone(),
    });
    FaultsDocument {
        format: FORMAT,
        faults: all.collect(),
    }
}

/// All faults as text in lines of at most 80 columns.
#[must_use]
pub fn faults_text(faults: &[FaultEntry], colour: bool) -> String {
    let mut page = Page::new(colour);
    for (at, fault) in faults.iter().enumerate() {
        if at > 0 {
            page.gap();
        }
        page.say(0, &format!("{}: {}", fault.id, fault.name), Tone::Strong);
        page.hang(2, "seen in ", &texts(&fault.skills).join(", "), Tone::Plain);
        for grade in &fault.grades {
            page.hang(
                2,
                &format!("--grade {}: ", grade.id),
                &grade.says,
                Tone::Plain,
            );
        }
        let causes = fault
            .causes
            .iter()
            .map(|(cause, percent)| format!("{} {percent} %", cause.name));
        page.hang(
            2,
            "behind it: ",
            &causes.collect::<Vec<_>>().join(", "),
            Tone::Plain,
        );
        for (other, look) in &fault.not_to_confuse {
            page.hang(
                2,
                &format!("not {}: ", spaced(other.as_str())),
                look,
                Tone::Faint,
            );
        }
    }
    page.done()
}

/// All exercises as a document.
#[must_use]
pub fn exercises_document(exercises: &[ExerciseEntry]) -> ExercisesDocument {
    let all = exercises.iter().map(|exercise| ExerciseDocument {
        id: exercise.id.to_string(),
        name: exercise.name.clone(),
        used_for: exercise.used_for.clone(),
        roles: texts(&exercise.roles),
        departure: exercise.departure,
        score: None,
        effects: Vec::new(),
        allowed: None,
    });
    ExercisesDocument {
        format: FORMAT,
        exercises: all.collect(),
    }
}

/// All exercises as text in lines of at most 80 columns.
#[must_use]
pub fn exercises_text(exercises: &[ExerciseEntry], colour: bool) -> String {
    let mut page = Page::new(colour);
    for exercise in exercises {
        page.say(
            0,
            &format!("{}: {}", exercise.id, exercise.name),
            Tone::Strong,
        );
        page.say(2, &exercise.used_for, Tone::Plain);
    }
    page.done()
}

/// A ranking as a document.
#[must_use]
pub fn ranking_document(ranked: &[Ranked]) -> ExercisesDocument {
    let effect = |effect: &Effect| EffectDocument {
        skill: effect.skill.to_string(),
        cause: effect.cause.id.to_string(),
        demand: effect.demand,
        half_points: effect.half_points,
        by: effect
            .by
            .iter()
            .map(|called| called.id.to_string())
            .collect(),
    };
    let all = ranked.iter().map(|held| ExerciseDocument {
        id: held.exercise.to_string(),
        name: held.name.clone(),
        used_for: held.used_for.clone(),
        roles: texts(&held.roles),
        departure: held.departure,
        score: Some(held.score),
        effects: held.effects.iter().map(effect).collect(),
        allowed: Some(held.allowed),
    });
    ExercisesDocument {
        format: FORMAT,
        exercises: all.collect(),
    }
}

/// What helps most, as text in lines of at most 80 columns; what does nothing or harms is left out.
#[must_use]
pub fn ranking_text(ranked: &[Ranked], colour: bool) -> String {
    let mut page = Page::new(colour);
    let helping: Vec<&Ranked> = ranked.iter().filter(|held| held.score > 0).collect();
    for (at, held) in helping.iter().take(MOST_RANKED).enumerate() {
        let out = if held.allowed {
            ""
        } else {
            " (not allowed in this case)"
        };
        page.pair(
            0,
            &format!("{:>2}  {}{out}", at + 1, capital(&held.name)),
            60,
            &format!("{:>6}", held.score),
            Tone::Strong,
        );
        for effect in &held.effects {
            let does = if effect.half_points > 0 {
                "against"
            } else {
                "feeds"
            };
            let by = if effect.by.is_empty() {
                String::new()
            } else {
                format!(": {}", names(&effect.by))
            };
            let points = half_points(effect.half_points);
            page.hang(
                4,
                "- ",
                &format!("{does} {} ({points}){by}", effect.cause.name),
                Tone::Plain,
            );
        }
    }
    let more = helping.len().saturating_sub(MOST_RANKED);
    if more > 0 {
        page.say(0, &format!("and {more} more that help less"), Tone::Faint);
    }
    if helping.is_empty() {
        page.say(0, "No exercise of these rules helps.", Tone::Plain);
    }
    page.done()
}

/// Half points in points.
fn half_points(number: i64) -> String {
    let half = if number % 2 == 0 { "" } else { ".5" };
    format!(
        "{}{}{half}",
        if number < 0 { "-" } else { "+" },
        number.abs() / 2
    )
}

/// A ladder as a document.
#[must_use]
pub fn ladder_document(rungs: &[Rung]) -> LadderDocument {
    let all = rungs.iter().map(|rung| RungDocument {
        exercise: rung.exercise.as_ref().map(ToString::to_string),
        name: rung.name.clone(),
        constraints: rung
            .constraints
            .iter()
            .map(|called| called.id.to_string())
            .collect(),
        freed: rung.freed.as_ref().map(|called| called.id.to_string()),
        bears: rung.bears,
        highest: rung.highest,
        estimate: rung.estimate,
    });
    LadderDocument {
        format: FORMAT,
        rungs: all.collect(),
    }
}

/// A ladder as text in lines of at most 80 columns.
#[must_use]
pub fn ladder_text(rungs: &[Rung], colour: bool) -> String {
    let mut page = Page::new(colour);
    for (at, rung) in rungs.iter().enumerate() {
        if let Some(freed) = &rung.freed {
            let last = if rung.bears > 0 {
                ", which works against the cause"
            } else {
                ""
            };
            page.say(4, &format!("take away: {}{last}", freed.name), Tone::Plain);
        }
        let name = match &rung.exercise {
            Some(_) => capital(&rung.name),
            None => format!(
                "{}, with {} (not listed)",
                capital(&rung.name),
                names(&rung.constraints)
            ),
        };
        page.hang(0, &format!("{:>2}  ", at + 1), &name, Tone::Strong);
        if let Some(highest) = rung.highest {
            let estimate = if rung.estimate { ", an estimate" } else { "" };
            page.say(
                4,
                &format!("at most {highest} % of the reference{estimate}"),
                Tone::Faint,
            );
        }
    }
    page.say(0, "Only then does the load rise.", Tone::Plain);
    page.done()
}

/// Problems as a document.
#[must_use]
pub fn problems_document(problems: &[Diagnostic]) -> ProblemsDocument {
    let all = problems.iter().map(|problem| ProblemDocument {
        code: problem.code.to_string(),
        place: (!problem.place.is_unknown()).then(|| PlaceDocument::from(&problem.place)),
        what: problem.what.clone(),
        help: problem.help.clone(),
    });
    ProblemsDocument {
        format: FORMAT,
        problems: all.collect(),
    }
}
