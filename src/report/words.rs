//! Words: one function puts one claim into words. Nothing in here decides anything.

use crate::base::{ConstraintId, Fact};
use crate::explain::{
    Claim, Clashing, Gain, Glossary, Level, Missed, Missing, Named, Plan, Proof, Ruling, WaitsFor,
    rule_path,
};

/// Half points from which help is said to take a cause away: two whole points.
const TAKES_AWAY: i64 = 4;

/// Puts claims into the words of one pack.
pub(crate) struct Words<'a> {
    glossary: &'a Glossary,
}

/// The first sentence of a text, with its full stop.
fn first_sentence(text: &str) -> &str {
    let end = text.find(". ").map_or(text.len(), |at| at + 1);
    text.get(..end).unwrap_or(text)
}

/// What a text says before its first semicolon or colon, as a sentence; the first sentence where it has neither.
fn first_clause(text: &str) -> String {
    let sentence = first_sentence(text);
    let end = ["; ", ": "]
        .iter()
        .filter_map(|mark| sentence.find(mark))
        .min();
    end.and_then(|at| sentence.get(..at))
        .map_or_else(|| sentence.to_owned(), |clause| format!("{clause}."))
}

/// A text with its first letter large.
pub(crate) fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_uppercase().chain(letters).collect()
    })
}

/// An id as words.
pub(crate) fn spaced(id: &str) -> String {
    id.replace('-', " ")
}

/// A number of something, in the singular where it is one.
pub(crate) fn many(number: i64, one: &str, more: &str) -> String {
    if number == 1 {
        format!("1 {one}")
    } else {
        format!("{number} {more}")
    }
}

/// Hundredths as a decimal.
pub(crate) fn hundredths(number: i64) -> String {
    let sign = if number < 0 { "-" } else { "" };
    format!(
        "{sign}{}.{:02}",
        number.unsigned_abs() / 100,
        number.unsigned_abs() % 100
    )
}

/// The day of the week, 1 to 7; the number itself beyond.
pub(crate) fn weekday(day: u8) -> String {
    let names = [
        "Monday",
        "Tuesday",
        "Wednesday",
        "Thursday",
        "Friday",
        "Saturday",
        "Sunday",
    ];
    let name = usize::from(day).checked_sub(1).and_then(|at| names.get(at));
    name.map_or_else(|| format!("day {day}"), |name| (*name).to_owned())
}

impl<'a> Words<'a> {
    pub(crate) const fn new(glossary: &'a Glossary) -> Self {
        Self { glossary }
    }

    pub(crate) fn name<'b>(&'b self, named: Named, id: &'b str) -> &'b str {
        self.glossary.name(named, id)
    }

    fn because(&self, path: &str) -> &str {
        self.glossary
            .cited(path)
            .map_or("", |item| item.because.as_str())
    }

    fn constraints(&self, by: &[ConstraintId]) -> String {
        let names: Vec<&str> = by
            .iter()
            .map(|id| self.name(Named::Constraint, id.as_str()))
            .collect();
        if names.is_empty() {
            String::from("the exercise itself")
        } else {
            names.join(" and ")
        }
    }

    /// A skill in words: its id, for its name says what it is.
    pub(crate) fn skill(&self, id: &str) -> String {
        spaced(id)
    }

    pub(crate) fn cause<'b>(&'b self, id: &'b str) -> &'b str {
        self.name(Named::Cause, id)
    }

    /// Whose bound it is, in words.
    pub(crate) fn ruling(&self, ruling: &Ruling) -> String {
        match ruling {
            Ruling::Part(part) => format!(
                "the part “{}” of the day",
                self.name(Named::Part, part.as_str())
            ),
            Ruling::Rule { id, .. } => format!("the rule “{}”", spaced(id.as_str())),
        }
    }

    /// A claim in one sentence that has at most `most` characters where its words allow it; what
    /// can be left out is left out.
    pub(crate) fn brief(&self, claim: &Claim, most: usize) -> String {
        let fits = |text: &String| text.chars().count() <= most;
        let mut forms = self.forms(claim);
        let last = forms.pop().unwrap_or_default();
        forms.into_iter().find(fits).unwrap_or(last)
    }

    /// A claim in one sentence, the whole of it.
    pub(crate) fn whole(&self, claim: &Claim) -> String {
        self.forms(claim).into_iter().next().unwrap_or_default()
    }

    /// A claim in words, from the fullest form to the shortest.
    fn forms(&self, claim: &Claim) -> Vec<String> {
        match claim {
            Claim::Seen {
                fault,
                skill,
                grade,
                ..
            } => {
                let name = self.name(Named::Fault, fault.as_str());
                let says = self.glossary.grade(fault.as_str(), grade.as_str());
                vec![
                    format!("Seen in the {}: {name}. {says}", self.skill(skill.as_str())),
                    format!("Seen: {name}."),
                ]
            }
            Claim::Observed(look) => {
                vec![format!(
                    "Also seen: {}.",
                    self.name(Named::Observation, look.as_str())
                )]
            }
            Claim::Demand {
                skill,
                cause,
                points,
            } => vec![format!(
                "Behind it in the {}: {}, demand {points} of 300.",
                self.skill(skill.as_str()),
                self.cause(cause.as_str())
            )],
            Claim::InFocus {
                skill,
                cause,
                points,
            } => vec![format!(
                "Worked on now: {} ({}), demand {points}.",
                self.cause(cause.as_str()),
                self.skill(skill.as_str())
            )],
            Claim::Waits { cause, why, .. } => {
                vec![format!(
                    "{}: {}",
                    capital(self.cause(cause.as_str())),
                    self.waits_for(why)
                )]
            }
            Claim::Acts {
                constraint,
                cause,
                points,
            } => {
                let does = if *points > 0 { "takes away" } else { "feeds" };
                let constraint = self.name(Named::Constraint, constraint.as_str());
                vec![format!(
                    "{} {does} {} ({points:+} of 3).",
                    capital(constraint),
                    self.cause(cause.as_str())
                )]
            }
            Claim::Helps {
                exercise,
                cause,
                half_points,
                by,
                ..
            } => self.helps(exercise.as_str(), cause.as_str(), *half_points, by),
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
            Claim::Needed {
                ruling,
                level,
                units,
            } => self.needed(ruling, *level, *units),
            Claim::Floor {
                quality,
                gives,
                asked,
            } => {
                let name = capital(self.name(Named::Quality, quality.as_str()));
                let short = capital(&spaced(quality.as_str()));
                let needs = format!(
                    "{gives} of the {} that the week needs.",
                    many(*asked, "point", "points")
                );
                vec![format!("{name}: {needs}"), format!("{short}: {needs}")]
            }
            Claim::Gains { to, .. } => self.gains(to),
            Claim::UsedFor(exercise) => vec![self.glossary.used_for(exercise.as_str()).to_owned()],
            Claim::Placed {
                day,
                exercise,
                role,
                part,
            } => vec![format!(
                "{} on {} as {} in the part “{}”.",
                capital(self.name(Named::Exercise, exercise.as_str())),
                weekday(*day),
                self.name(Named::Role, role.as_str()),
                self.name(Named::Part, part.as_str())
            )],
        }
    }

    fn helps(
        &self,
        exercise: &str,
        cause: &str,
        half_points: i64,
        by: &[ConstraintId],
    ) -> Vec<String> {
        let cause = self.cause(cause);
        if half_points < 0 {
            let exercise = capital(self.name(Named::Exercise, exercise));
            return vec![format!(
                "{exercise} feeds {cause} a little, and that is counted against it."
            )];
        }
        let does = if half_points >= TAKES_AWAY {
            "Against"
        } else {
            "A little against"
        };
        let mut forms = vec![format!("{does} {cause}: {}.", self.constraints(by))];
        if let [first, _, ..] = by {
            forms.push(format!(
                "{does} {cause}: {}.",
                self.constraints(std::slice::from_ref(first))
            ));
        }
        forms.push(format!("{does} {cause}."));
        forms
    }

    fn needed(&self, ruling: &Ruling, level: Level, units: i64) -> Vec<String> {
        match ruling {
            Ruling::Part(part) => {
                let part = self.name(Named::Part, part.as_str());
                vec![format!(
                    "The part “{part}” of this day would have too little without it."
                )]
            }
            Ruling::Rule { id, .. } => {
                let rule = spaced(id.as_str());
                let because = self.because(&ruling.to_string());
                let hard = match level {
                    Level::Never => String::from("it is hard"),
                    _ => format!("it gives way {}", level.as_str()),
                };
                vec![
                    format!(
                        "Without it the rule “{rule}” would be missed by {} ({hard}): {because}",
                        many(units, "unit", "units")
                    ),
                    first_sentence(because).to_owned(),
                    first_clause(because),
                    format!("The rule “{rule}” asks for it."),
                ]
            }
        }
    }

    fn gains(&self, to: &Gain) -> Vec<String> {
        match to {
            Gain::Cause { cause, by, .. } => {
                let cause = self.cause(cause.as_str());
                let mut forms = Vec::new();
                if !by.is_empty() {
                    forms.push(format!(
                        "Helps a little against {cause}: {}.",
                        self.constraints(by)
                    ));
                }
                forms.push(format!("Helps a little against {cause}."));
                forms
            }
            Gain::Quality { quality, points } => {
                let name = capital(self.name(Named::Quality, quality.as_str()));
                let adds = format!(
                    "{} more than the week needs.",
                    many(*points, "point", "points")
                );
                vec![
                    format!("{name}: {adds}"),
                    format!("{}: {adds}", capital(&spaced(quality.as_str()))),
                ]
            }
            Gain::Preference(rule) => {
                let because = self.because(&rule_path("prefer", rule.as_str()));
                vec![
                    format!(
                        "Preferred by the rule “{}”: {because}",
                        spaced(rule.as_str())
                    ),
                    first_sentence(because).to_owned(),
                    first_clause(because),
                    format!("Preferred by the rule “{}”.", spaced(rule.as_str())),
                ]
            }
        }
    }

    /// What a cause waits for.
    pub(crate) fn waits_for(&self, why: &WaitsFor) -> String {
        match why {
            WaitsFor::MoreDemand => String::from("too little speaks for it to be worked on now."),
            WaitsFor::RoomInSkill => String::from("waits until a cause of the same skill is gone."),
            WaitsFor::RoomInAll => String::from("waits until another cause is gone."),
            WaitsFor::Opposite { cause, look } => {
                let other = self.cause(cause.as_str());
                let look = look
                    .as_ref()
                    .map(|look| self.glossary.look(look.as_str()))
                    .filter(|look| !look.is_empty());
                match look {
                    Some(look) => {
                        format!(
                            "asks for the opposite of {other}, which more speaks for. What tells them apart: {look}"
                        )
                    }
                    None => format!("asks for the opposite of {other}, which more speaks for."),
                }
            }
        }
    }

    /// The items that a fact rests on: path, place and sources of each.
    pub(crate) fn cites(&self, fact: &Fact<Claim>) -> Vec<String> {
        let mut all: Vec<(String, Vec<&str>)> = Vec::new();
        for cited in fact.cites() {
            let of = format!("{}, {}:{}", cited.rule, cited.place.file, cited.place.line);
            match all.last_mut().filter(|(held, _)| *held == of) {
                Some((_, sources)) => sources.push(&cited.source),
                None => all.push((of, vec![&cited.source])),
            }
        }
        all.into_iter()
            .map(|(of, sources)| format!("{of}: {}", sources.join(", ")))
            .collect()
    }

    /// A source in words.
    pub(crate) fn source(&self, id: &str) -> String {
        self.glossary.source(id).to_owned()
    }

    /// What the case leaves open.
    pub(crate) fn missing(&self, missing: &Missing) -> String {
        match missing {
            Missing::Field(field) => {
                format!(
                    "{}: rules ask for it and the case does not say it",
                    self.name(Named::CaseField, field.as_str())
                )
            }
            Missing::Best {
                reference,
                estimated_from: Some(from),
            } => format!(
                "{}: estimated from the {}",
                self.name(Named::Reference, reference.as_str()),
                self.name(Named::Reference, from.as_str())
            ),
            Missing::Best {
                reference,
                estimated_from: None,
            } => {
                format!(
                    "{}: without it no load is named",
                    self.name(Named::Reference, reference.as_str())
                )
            }
        }
    }

    /// A part of a clash.
    pub(crate) fn clashing(&self, what: &Clashing) -> String {
        match what {
            Clashing::Rule { kind, id, place } => {
                let path = rule_path(kind, id.as_str());
                format!("{path} ({place}): {}", first_sentence(self.because(&path)))
            }
            Clashing::Field { field, skill, says } => {
                let of = skill.as_ref().map_or_else(String::new, |skill| {
                    format!(" of the {}", self.skill(skill.as_str()))
                });
                format!(
                    "the case: {}{of}: {says}",
                    self.name(Named::CaseField, field.as_str())
                )
            }
            Clashing::Layout(layout) => {
                format!(
                    "the case: the layout “{}”",
                    self.name(Named::Layout, layout.as_str())
                )
            }
            Clashing::Pieces => String::from("the case: the pieces that the gym has"),
        }
    }

    /// What could be changed about a part of a clash.
    pub(crate) fn relax(&self, what: &Clashing) -> String {
        match what {
            Clashing::Rule { kind, id, .. } => format!(
                "let {} give way, or loosen it",
                rule_path(kind, id.as_str())
            ),
            Clashing::Field { field, .. } => {
                format!(
                    "say something else for “{}”, if it can be said",
                    self.name(Named::CaseField, field.as_str())
                )
            }
            Clashing::Layout(_) => String::from("let the rules choose the layout"),
            Clashing::Pieces => String::from("more pieces for the bar"),
        }
    }
}

/// Units missed on each level; that nothing gave way, where nothing did.
pub(crate) fn gave_way(missed: &Missed) -> String {
    if missed.is_none() {
        return String::from("nothing gave way");
    }
    let levels = [
        ("last", missed.last),
        ("middle", missed.middle),
        ("first", missed.first),
    ];
    let all: Vec<String> = levels
        .iter()
        .filter(|(_, units)| *units > 0)
        .map(|(level, units)| {
            format!(
                "{} of rules that yield {level}",
                many(*units, "unit", "units")
            )
        })
        .collect();
    format!("missed: {}", all.join(", "))
}

/// How good a week is, in words.
pub(crate) fn proof(plan: &Plan) -> String {
    let worth = hundredths(plan.worth);
    let gave_way = gave_way(&plan.missed);
    match (plan.proof, &plan.bound) {
        (Proof::Limited, Some(bound)) => {
            let at_best = if bound.missed == plan.missed {
                format!("no week is worth more than {}", hundredths(bound.worth))
            } else {
                format!("at best: {}", self::gave_way(&bound.missed))
            };
            format!(
                "the best week found within the limit of work ({at_best}); re-checked; {gave_way}; worth {worth}"
            )
        }
        _ => format!(
            "best under these rules, by the word of the search; re-checked; {gave_way}; worth {worth}"
        ),
    }
}
