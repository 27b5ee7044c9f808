//! Claims in words: the whole of one for those who ask for everything, and sentences short enough
//! for one line of a sheet.

use crate::base::{CauseId, ConstraintId};
use crate::explain::{Claim, Gain, Level, Named, Ruling, rule_path};
use crate::rules::kinds::{HowOften, Rule};

use super::Words;
use super::phrase::{capital, first_clause, first_sentence, many, ordinal, small, spaced, weekday};
use super::proof::when;

/// Half points from which help is said to work against a cause without "a little": two whole points.
const WORKS_AGAINST: i64 = 4;

impl Words<'_> {
    /// A claim in one sentence that has at most `most` characters where its words allow it; what
    /// can be left out is left out.
    pub(crate) fn brief(&self, claim: &Claim, most: usize) -> String {
        fitting(self.forms(claim), most)
    }

    /// The same where it is said for the `time`-th time, so that no two of its sentences are alike.
    pub(crate) fn again(&self, claim: &Claim, time: usize, most: usize) -> String {
        let time = ordinal(time);
        let forms = match claim {
            Claim::Helps {
                cause, by, sure, ..
            }
            | Claim::Gains {
                to: Gain::Cause {
                    cause, by, sure, ..
                },
                ..
            } => {
                let time = capital(&time);
                let shorter = |_: &str, by: &str| format!("{time} time: {by}.");
                let does = format!("{time} time against");
                self.against(&does, shorter, (cause.as_str(), *sure), by)
            }
            Claim::Gains {
                to: Gain::Quality { quality, .. },
                ..
            } => self.of_quality(quality.as_str(), |name| {
                format!("{name} beyond this week's minimum, for the {time} time.")
            }),
            other => self
                .forms(other)
                .into_iter()
                .map(|form| format!("For the {time} time: {}", small(&form)))
                .collect(),
        };
        fitting(forms, most)
    }

    /// What a claim says about a cause that is worked on, as far as telling it again is telling the
    /// same: the cause and the constraints; none for a claim about something else.
    pub(crate) fn about_cause(claim: &Claim) -> Option<(&CauseId, &[ConstraintId])> {
        match claim {
            Claim::Helps { cause, by, .. }
            | Claim::Gains {
                to: Gain::Cause { cause, by, .. },
                ..
            } => Some((cause, by)),
            _ => None,
        }
    }

    /// A claim in words, the whole of it.
    pub(crate) fn whole(&self, claim: &Claim) -> String {
        match claim {
            Claim::Needed {
                ruling: Ruling::Rule { kind, id },
                level,
                units,
            } => {
                let gives_way = match level {
                    Level::Never => String::from("never gives way"),
                    _ => format!("gives way {}", when(*level)),
                };
                format!(
                    "Without it the rule “{}”, which {gives_way}, would be missed by {}: {}",
                    spaced(id.as_str()),
                    many(*units, "unit", "units"),
                    self.because(&rule_path(kind, id.as_str()))
                )
            }
            Claim::Gains {
                to: Gain::Preference(rule),
                ..
            } => format!(
                "Preferred by the rule “{}”: {}",
                spaced(rule.as_str()),
                self.because(&rule_path("prefer", rule.as_str()))
            ),
            Claim::Gains {
                to: Gain::Quality { points, .. },
                ..
            } => {
                let brief = self.forms(claim).into_iter().next().unwrap_or_default();
                format!("{brief} It gives {}.", many(*points, "point", "points"))
            }
            Claim::Acts {
                constraint,
                cause,
                points,
            } => {
                let does = if *points > 0 {
                    "works against"
                } else {
                    "feeds"
                };
                let name = self.name(Named::Constraint, constraint.as_str());
                let path = format!("axes.constraints.{constraint}");
                format!(
                    "{} {does} “{}” ({points:+} of 3): {}",
                    capital(name),
                    self.cause(cause.as_str()),
                    self.because(&path)
                )
            }
            Claim::Placed {
                day,
                exercise,
                role,
                part,
            } => format!(
                "{} on {} as {} in the part “{}”.",
                capital(self.name(Named::Exercise, exercise.as_str())),
                weekday(*day),
                self.name(Named::Role, role.as_str()),
                self.name(Named::Part, part.as_str())
            ),
            Claim::UsedFor(exercise) => self.glossary.used_for(exercise.as_str()).to_owned(),
            other => self.forms(other).into_iter().next().unwrap_or_default(),
        }
    }

    /// A claim in words, from the fullest form that a line may have to the shortest.
    fn forms(&self, claim: &Claim) -> Vec<String> {
        match claim {
            Claim::Seen {
                fault,
                skill,
                grade,
                times,
                from_percent,
                ..
            } => {
                let name = self.name(Named::Fault, fault.as_str());
                let says = self.glossary.grade(fault.as_str(), grade.as_str());
                let skill = self.skill(skill.as_str());
                let when = super::seen_when(*times, *from_percent);
                vec![
                    format!("Seen: {name} ({skill}). {says}{when}"),
                    format!("Seen: {name}."),
                ]
            }
            Claim::TooSeldom { fault, rule, .. } => {
                let name = self.name(Named::Fault, fault.as_str());
                let because = self.because(&rule_path(HowOften::KIND, rule.as_str()));
                vec![format!(
                    "{} counts for nothing so far: {because}",
                    capital(name)
                )]
            }
            Claim::Observed(look) => {
                let look = self.name(Named::Observation, look.as_str());
                vec![format!("Also: {look}.")]
            }
            Claim::Sure { skill, cause } => vec![format!(
                "The coach is sure of it: {} ({}).",
                self.cause(cause.as_str()),
                self.skill(skill.as_str())
            )],
            Claim::Demand {
                skill,
                cause,
                points,
            } => vec![format!(
                "Behind it: {} ({}), demand {points}: severity times percent, at most 300.",
                self.cause(cause.as_str()),
                self.skill(skill.as_str())
            )],
            Claim::InFocus { skill, cause, .. } => vec![format!(
                "Worked on this week: {} ({}).",
                self.cause(cause.as_str()),
                self.skill(skill.as_str())
            )],
            Claim::Waits {
                skill, cause, why, ..
            } => vec![format!(
                "Waits: {} ({}): {}",
                self.cause(cause.as_str()),
                self.skill(skill.as_str()),
                self.waits_for(why)
            )],
            Claim::Acts { .. } | Claim::Placed { .. } => vec![self.whole(claim)],
            Claim::Helps {
                exercise,
                cause,
                half_points,
                by,
                sure,
                ..
            } => {
                let cause = (cause.as_str(), *sure);
                self.helps(exercise.as_str(), cause, *half_points, by)
            }
            Claim::StandsIn { of, .. } => {
                let of = self.name(Named::Exercise, of.as_str());
                vec![
                    format!("Stands in for the full {of}, which this lifter may not do now."),
                    format!("Stands in for the full {of}."),
                ]
            }
            Claim::Dosed { dose, rule } => {
                let why = first_sentence(self.because(&format!("doses.{dose}")));
                vec![format!(
                    "Dosed as “{}” by the rule “{}”. {why}",
                    spaced(dose.as_str()),
                    spaced(rule.as_str())
                )]
            }
            Claim::Capped(rule) => {
                let why = first_sentence(self.because(&rule_path("cap", rule.as_str())));
                vec![format!(
                    "The load is held down by the rule “{}”. {why}",
                    spaced(rule.as_str())
                )]
            }
            Claim::Trimmed(rule) => {
                let why = first_sentence(self.because(&rule_path("trim", rule.as_str())));
                vec![format!(
                    "The rule “{}” takes sets away. {why}",
                    spaced(rule.as_str())
                )]
            }
            Claim::Stepped(rule) => {
                let why = first_sentence(self.because(&rule_path("load-step", rule.as_str())));
                vec![format!(
                    "The load is moved by the rule “{}”. {why}",
                    spaced(rule.as_str())
                )]
            }
            Claim::Needed { ruling, .. } => self.needed(ruling),
            Claim::Floor {
                quality,
                gives,
                asked,
            } => {
                let needs = format!(
                    "needs {} this week; this gives {gives}.",
                    many(*asked, "point", "points")
                );
                self.of_quality(quality.as_str(), |name| format!("{name} {needs}"))
            }
            Claim::Gains { to, .. } => self.gains(to),
            Claim::UsedFor(exercise) => {
                let used_for = self.glossary.used_for(exercise.as_str());
                shorter(used_for)
            }
        }
    }

    fn helps(
        &self,
        exercise: &str,
        cause: (&str, bool),
        half_points: i64,
        by: &[ConstraintId],
    ) -> Vec<String> {
        if half_points < 0 {
            let exercise = capital(self.name(Named::Exercise, exercise));
            return vec![format!(
                "{exercise} feeds “{}” a little, which is counted against it.",
                self.cause(cause.0)
            )];
        }
        if half_points >= WORKS_AGAINST {
            let shorter = |cause: &str, by: &str| format!("Against “{cause}”: {by}.");
            self.against("Works against", shorter, cause, by)
        } else {
            self.helps_a_little(cause, by)
        }
    }

    fn helps_a_little(&self, cause: (&str, bool), by: &[ConstraintId]) -> Vec<String> {
        let shorter = |cause: &str, by: &str| format!("A little against “{cause}”: {by}.");
        self.against("Helps a little against", shorter, cause, by)
    }

    /// What works against a cause, by which constraints: both, the stronger, the same in
    /// fewer words, none named. Of a cause comes with it whether the coach is sure of it, which is said.
    fn against(
        &self,
        does: &str,
        shorter: impl Fn(&str, &str) -> String,
        (cause, sure): (&str, bool),
        by: &[ConstraintId],
    ) -> Vec<String> {
        let cause = self.cause(cause);
        let words: &[&str] = if sure {
            &[" (the coach's word)", " (coach)"]
        } else {
            &[""]
        };
        let mut forms = Vec::new();
        if let Some(stronger) = by.first() {
            let both = self.constraints(by);
            let stronger = self.constraints(std::slice::from_ref(stronger));
            for word in words {
                forms.push(format!("{does} “{cause}”{word}: {both}."));
                forms.push(format!("{does} “{cause}”{word}: {stronger}."));
            }
            // In so few words nothing can be said of the coach.
            forms.extend((!sure).then(|| shorter(cause, &stronger)));
        }
        forms.extend(words.iter().map(|word| format!("{does} “{cause}”{word}.")));
        forms
    }

    fn needed(&self, ruling: &Ruling) -> Vec<String> {
        match ruling {
            Ruling::Part(part) => {
                let part = self.name(Named::Part, part.as_str());
                vec![format!(
                    "Without it the part “{part}” of this day would be too short."
                )]
            }
            Ruling::Rule { id, .. } => {
                let mut forms = shorter(self.because(&ruling.to_string()));
                forms.push(format!("The rule “{}” asks for it.", spaced(id.as_str())));
                forms
            }
        }
    }

    fn gains(&self, to: &Gain) -> Vec<String> {
        match to {
            Gain::Cause {
                cause, by, sure, ..
            } => self.helps_a_little((cause.as_str(), *sure), by),
            Gain::Quality { quality, .. } => self.of_quality(quality.as_str(), |name| {
                format!("{name}: beyond this week's minimum.")
            }),
            Gain::Preference(rule) => {
                let mut forms = shorter(self.because(&rule_path("prefer", rule.as_str())));
                forms.push(format!(
                    "Preferred by the rule “{}”.",
                    spaced(rule.as_str())
                ));
                forms
            }
        }
    }

    /// A sentence about a quality, by its name and by its id, which may be shorter.
    fn of_quality(&self, quality: &str, says: impl Fn(&str) -> String) -> Vec<String> {
        vec![
            says(&capital(self.name(Named::Quality, quality))),
            says(&capital(&spaced(quality))),
        ]
    }
}

/// The first sentence of a text, and what it says before its first semicolon or colon.
fn shorter(text: &str) -> Vec<String> {
    vec![first_sentence(text).to_owned(), first_clause(text)]
}

/// The first form of at most `most` characters; the last where none is so short.
fn fitting(mut forms: Vec<String>, most: usize) -> String {
    let last = forms.pop().unwrap_or_default();
    forms
        .into_iter()
        .find(|form| form.chars().count() <= most)
        .unwrap_or(last)
}
