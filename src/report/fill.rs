//! Fills the documents from answers.

use crate::base::Place;
use crate::explain::{
    Answer, Bar, Bound, Clash, Composed, Item, LighterSet, Load, Missed, Missing, NoWeek, NotFound,
    Plan, Said, Session, Shortfall, Watch,
};

use super::json::{
    AnswerDocument, BarDocument, BoundDocument, CauseDocument, ClashDocument, ComposedDocument,
    FORMAT, FurtherDocument, ItemDocument, LighterSetDocument, LoadDocument, MissedDocument,
    MissingDocument, NoWeekDocument, NotFoundDocument, PercentDocument, PiecesDocument,
    PlaceDocument, SaidDocument, SessionDocument, ShortfallDocument, StandInDocument,
    TooSeldomDocument, WatchDocument, WeekDocument,
};
use super::text::{Reasons, because_of};
use super::words::Words;

impl From<Missed> for MissedDocument {
    fn from(missed: Missed) -> Self {
        Self {
            last: missed.last,
            middle: missed.middle,
            first: missed.first,
        }
    }
}

impl From<&Composed> for ComposedDocument {
    fn from(made: &Composed) -> Self {
        Self {
            exercise: made.exercise.to_string(),
            name: made.name.clone(),
            from: made.from.to_string(),
            with: made.with.iter().map(ToString::to_string).collect(),
        }
    }
}

impl From<&Bound> for BoundDocument {
    fn from(bound: &Bound) -> Self {
        Self {
            missed: bound.missed.into(),
            worth: bound.worth,
        }
    }
}

impl From<&Bar> for BarDocument {
    fn from(bar: &Bar) -> Self {
        Self {
            bar: bar.bar.to_string(),
            weight: bar.weight,
            collar: bar.collar,
            unit: bar.unit.clone(),
        }
    }
}

impl From<&Said> for SaidDocument {
    fn from(said: &Said) -> Self {
        Self {
            rule: said.rule.to_string(),
            says: said.words.clone(),
        }
    }
}

impl From<&Place> for PlaceDocument {
    fn from(place: &Place) -> Self {
        Self {
            file: place.file.to_string(),
            line: place.line,
            column: place.column,
        }
    }
}

impl From<&Load> for LoadDocument {
    fn from(load: &Load) -> Self {
        Self {
            bar: load.bar.bar.to_string(),
            low: load.low,
            high: load.high,
            unit: load.unit.clone(),
            percent: PercentDocument {
                low: load.percent.0,
                high: load.percent.1,
            },
            asked: load.asked.map(|(low, high)| PercentDocument { low, high }),
            of: load.of.to_string(),
            pieces: PiecesDocument {
                low: load.low_pieces.clone(),
                high: load.high_pieces.clone(),
            },
            estimated_from: load
                .estimated_from
                .as_ref()
                .map(|(from, _)| from.to_string()),
        }
    }
}

impl From<&LighterSet> for LighterSetDocument {
    fn from(set: &LighterSet) -> Self {
        Self {
            percent_of_load: set.percent_of_load,
            round: set.round.clone(),
            weight: set.load.weight,
            pieces: set.load.pieces.clone(),
        }
    }
}

impl From<&Watch> for WatchDocument {
    fn from(watch: &Watch) -> Self {
        Self {
            rule: watch.rule.to_string(),
            look: watch.look.clone(),
            lighten: watch.lighten.clone(),
        }
    }
}

impl Answer {
    /// The answer as a document.
    #[must_use]
    pub fn document(&self, reasons: Reasons) -> AnswerDocument {
        match self {
            Self::Week(plan) => AnswerDocument::Week(Box::new(plan.document(reasons))),
            Self::NoWeek(none) => AnswerDocument::NoWeek(none.document()),
            Self::NotFound(none) => AnswerDocument::NotFound(none.document()),
        }
    }
}

impl Plan {
    /// The week as a document.
    #[must_use]
    pub fn document(&self, reasons: Reasons) -> WeekDocument {
        let words = Words::new(&self.glossary);
        WeekDocument {
            format: FORMAT,
            fingerprint: self.fingerprint.clone(),
            lifter: self.lifter.clone(),
            phase: self.phase.to_string(),
            layout: self.layout.to_string(),
            bar: BarDocument::from(&self.bar),
            lighter_bars: self.lighter_bars().map(BarDocument::from).collect(),
            proof: self.proof.as_str().to_owned(),
            worth: self.worth,
            missed: self.missed.into(),
            bound: self.bound.as_ref().map(BoundDocument::from),
            too_seldom: self
                .seen
                .iter()
                .filter_map(|seen| {
                    let said = seen.too_seldom.as_ref()?;
                    Some(TooSeldomDocument {
                        fault: seen.fault.to_string(),
                        skill: seen.skill.to_string(),
                        rule: said.rule.to_string(),
                        says: said.words.clone(),
                    })
                })
                .collect(),
            worked_on: self
                .focus
                .iter()
                .map(|held| CauseDocument {
                    skill: held.skill.to_string(),
                    cause: held.cause.to_string(),
                    demand: held.demand,
                    sure: held.sure,
                    by: held.by.iter().map(ToString::to_string).collect(),
                    why: None,
                })
                .collect(),
            waits: self
                .waiting
                .iter()
                .map(|held| CauseDocument {
                    skill: held.skill.to_string(),
                    cause: held.cause.to_string(),
                    demand: held.demand,
                    sure: false,
                    by: Vec::new(),
                    why: Some(words.waits_for(&held.why)),
                })
                .collect(),
            stand_ins: self
                .stand_ins
                .iter()
                .map(|held| StandInDocument {
                    of: held.of.to_string(),
                    exercise: held.exercise.as_ref().map(ToString::to_string),
                    says: held.said.words.clone(),
                })
                .collect(),
            shortfalls: self
                .shortfalls
                .iter()
                .map(|held| shortfall(&words, held))
                .collect(),
            missed_days: self.missed_days.clone(),
            sessions: self
                .sessions
                .iter()
                .map(|session| self.session(session, reasons))
                .collect(),
            composed: self.composed.iter().map(ComposedDocument::from).collect(),
            lifts: self.lifts,
            minutes: self.minutes(),
            cautions: self.cautions.iter().map(SaidDocument::from).collect(),
            missing: self
                .missing
                .iter()
                .map(|held| missing(&words, held))
                .collect(),
        }
    }

    fn session(&self, session: &Session, reasons: Reasons) -> SessionDocument {
        SessionDocument {
            day: session.day,
            weekday: session.weekday,
            effort: session.effort.to_string(),
            done: session.done,
            minutes: session.minutes(),
            lifts: session.lifts,
            items: session
                .items
                .iter()
                .map(|item| self.item(item, reasons))
                .collect(),
        }
    }

    fn item(&self, item: &Item, reasons: Reasons) -> ItemDocument {
        let why = match reasons {
            Reasons::Brief => vec![self.why(item)],
            Reasons::Full => self.derivation(item),
        };
        ItemDocument {
            part: item.part.to_string(),
            role: item.role.to_string(),
            exercise: item.exercise.to_string(),
            name: item.name.clone(),
            in_place_of: item.in_place_of.as_ref().map(ToString::to_string),
            sets: item.sets,
            reps: item.reps,
            round: item.round.clone(),
            load: item.load.as_ref().map(LoadDocument::from),
            feel: item.load.is_none().then(|| item.feel.clone()),
            lighter_sets: item
                .lighter_sets
                .iter()
                .map(LighterSetDocument::from)
                .collect(),
            watch: item.watch.as_ref().map(WatchDocument::from),
            notes: item.notes.iter().map(SaidDocument::from).collect(),
            constraints: item.constraints.iter().map(ToString::to_string).collect(),
            why,
        }
    }
}

fn shortfall(words: &Words<'_>, held: &Shortfall) -> ShortfallDocument {
    ShortfallDocument {
        rule: held.ruling.to_string(),
        missed: held.units,
        because_of: because_of(words, held),
        yields: held.level.as_str().to_owned(),
        days: held.days.clone(),
        place: PlaceDocument::from(&held.place),
    }
}

fn missing(words: &Words<'_>, held: &Missing) -> MissingDocument {
    let (kind, id) = match held {
        Missing::Field(field) => ("field", field.to_string()),
        Missing::Best { reference, .. } => ("best", reference.to_string()),
    };
    MissingDocument {
        kind: kind.to_owned(),
        id,
        says: words.missing(held),
    }
}

fn clashes(words: &Words<'_>, parts: &[Clash]) -> Vec<ClashDocument> {
    let parts = parts.iter().map(|clash| ClashDocument {
        what: words.clashing(&clash.what),
        relax: words.relax(&clash.what),
        enough: clash.enough,
    });
    parts.collect()
}

impl NoWeek {
    /// What clashes, as a document.
    #[must_use]
    pub fn document(&self) -> NoWeekDocument {
        let words = Words::new(&self.glossary);
        let further = self.further.iter().map(|further| FurtherDocument {
            once: words.clashing_part(&further.once),
            clash: clashes(&words, &further.clash),
        });
        NoWeekDocument {
            format: FORMAT,
            fingerprint: self.fingerprint.clone(),
            no_week: String::from("claimed"),
            clash: clashes(&words, &self.clash),
            further: further.collect(),
            irreducible: self.irreducible,
            cautions: self.cautions.iter().map(SaidDocument::from).collect(),
        }
    }
}

impl NotFound {
    /// That nothing was found, as a document.
    #[must_use]
    pub fn document(&self) -> NotFoundDocument {
        NotFoundDocument {
            format: FORMAT,
            fingerprint: self.fingerprint.clone(),
            not_found_after_nodes: self.nodes,
            cancelled: self.cancelled,
        }
    }
}
