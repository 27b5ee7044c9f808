//! A week as a sheet that a coach can take along, in lines of at most 80 columns.

use std::collections::BTreeSet;

use crate::base::{Decimal, FactId};
use crate::explain::{
    Answer, Claim, Item, Load, Named, NoWeek, NotFound, Plan, Session, Shortfall,
};

use super::page::{Page, Tone, WIDTH};
use super::words::{Words, capital, many, proof, weekday};

/// How much is said of the reasons.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
#[non_exhaustive]
pub enum Reasons {
    /// One sentence for each item.
    #[default]
    Brief,
    /// All that led to it, with rule ids, file and line, and sources.
    Full,
}

/// How a text is laid out.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
#[non_exhaustive]
pub struct Layout {
    /// How much is said of the reasons.
    pub reasons: Reasons,
    /// Whether escape codes of a terminal set some of it off.
    pub colour: bool,
}

impl Layout {
    /// With one sentence of reason for each item, and no colour.
    #[must_use]
    pub const fn new() -> Self {
        Self {
            reasons: Reasons::Brief,
            colour: false,
        }
    }

    /// The same with more or less said of the reasons.
    #[must_use]
    pub const fn with_reasons(mut self, reasons: Reasons) -> Self {
        self.reasons = reasons;
        self
    }

    /// The same with or without colour.
    #[must_use]
    pub const fn with_colour(mut self, colour: bool) -> Self {
        self.colour = colour;
        self
    }
}

/// Where what is done stands beside the name of an item.
const COLUMN: usize = 44;
/// How far lines below an item are indented.
const BELOW: usize = 6;

/// The characters that a reason may have on its line.
pub(crate) const REASON_WIDTH: usize = WIDTH - BELOW - 5;

impl Answer {
    /// The answer as text, in lines of at most 80 columns.
    #[must_use]
    pub fn text(&self, layout: Layout) -> String {
        match self {
            Self::Week(plan) => plan.text(layout),
            Self::NoWeek(none) => none.text(layout),
            Self::NotFound(none) => none.text(),
        }
    }
}

impl Plan {
    /// The week as text, in lines of at most 80 columns.
    #[must_use]
    pub fn text(&self, layout: Layout) -> String {
        let words = Words::new(&self.glossary);
        let mut sheet = Sheet {
            plan: self,
            words,
            page: Page::new(layout.colour),
            layout,
            cited: BTreeSet::new(),
        };
        sheet.head();
        for session in &self.sessions {
            sheet.session(session);
        }
        sheet.foot();
        sheet.page.done()
    }

    /// The one sentence that says best why an item is there, of at most 69 characters where its
    /// words allow it.
    #[must_use]
    pub fn why(&self, item: &Item) -> String {
        let words = Words::new(&self.glossary);
        self.trail
            .get(item.reason)
            .map_or_else(String::new, |fact| words.brief(fact.claim(), REASON_WIDTH))
    }

    /// All that led to an item, one fact a line with the rule items that it rests on; each fact
    /// stands above those that it follows from.
    #[must_use]
    pub fn derivation(&self, item: &Item) -> Vec<String> {
        let words = Words::new(&self.glossary);
        let facts = self
            .trail
            .closure(item.placed)
            .into_iter()
            .filter_map(|id| self.trail.get(id));
        facts
            .map(|fact| {
                let cites = words.cites(fact);
                let cites = if cites.is_empty() {
                    String::new()
                } else {
                    format!(" [{}]", cites.join("; "))
                };
                format!("{}{cites}", words.whole(fact.claim()))
            })
            .collect()
    }
}

/// A load with its unit, one number where both ends are the same.
fn span(load: &Load) -> String {
    if load.low == load.high {
        format!("{} {}", load.low, load.unit)
    } else {
        format!("{}–{} {}", load.low, load.high, load.unit)
    }
}

/// Percent, one number where both ends are the same.
fn percent((low, high): (i64, i64)) -> String {
    if low == high {
        format!("{low} %")
    } else {
        format!("{low}–{high} %")
    }
}

/// The pieces of one side, innermost first.
fn side(pieces: &[Decimal]) -> String {
    if pieces.is_empty() {
        return String::from("the bar alone");
    }
    pieces
        .iter()
        .map(ToString::to_string)
        .collect::<Vec<_>>()
        .join(" + ")
}

/// Sets and repetitions.
fn sets(item: &Item) -> String {
    match item.round.as_slice() {
        [_] | [] => format!("{} × {}", item.sets, item.reps),
        round => {
            let round: Vec<String> = round.iter().map(ToString::to_string).collect();
            format!("{} × ({})", item.sets, round.join(" + "))
        }
    }
}

struct Sheet<'a> {
    plan: &'a Plan,
    words: Words<'a>,
    page: Page,
    layout: Layout,
    /// Sources named on the sheet.
    cited: BTreeSet<String>,
}

impl Sheet<'_> {
    fn head(&mut self) {
        let plan = self.plan;
        let lifter = if plan.lifter.is_empty() {
            "a lifter"
        } else {
            plan.lifter.as_str()
        };
        let phase = self.words.name(Named::Phase, plan.phase.as_str());
        self.page.say(
            0,
            &format!("Training week for {lifter}, {phase}"),
            Tone::Strong,
        );
        self.page.gap();
        if !plan.stated.is_empty() {
            let said = plan.stated.iter().map(|(field, says)| {
                format!(
                    "{} {says}",
                    self.words.name(Named::CaseField, field.as_str())
                )
            });
            let said: Vec<String> = said.collect();
            self.page.hang(0, "Case   ", &said.join(" · "), Tone::Plain);
        }
        for seen in &plan.seen {
            if let Some(fact) = plan.trail.get(seen.fact) {
                self.page.hang(
                    0,
                    "Seen   ",
                    self.words.whole(fact.claim()).trim_start_matches("Seen "),
                    Tone::Plain,
                );
            }
        }
        for (_, fact) in plan
            .trail
            .iter()
            .filter(|(_, fact)| matches!(fact.claim(), Claim::Observed(_)))
        {
            self.page
                .hang(0, "       ", &self.words.whole(fact.claim()), Tone::Plain);
        }
        for worked in &plan.focus {
            let (cause, skill) = (
                self.words.cause(worked.cause.as_str()),
                self.words.skill(worked.skill.as_str()),
            );
            let look = plan.glossary.look_for(worked.cause.as_str());
            let text = format!(
                "{} ({skill}, demand {} of 300). {look}",
                capital(cause),
                worked.demand
            );
            self.page.hang(0, "Work   ", &text, Tone::Plain);
        }
        for waiting in &plan.waiting {
            let (cause, skill) = (
                self.words.cause(waiting.cause.as_str()),
                self.words.skill(waiting.skill.as_str()),
            );
            let text = format!(
                "{} ({skill}): {}",
                capital(cause),
                self.words.waits_for(&waiting.why)
            );
            self.page.hang(0, "Waits  ", &text, Tone::Plain);
        }
        for stand_in in &plan.stand_ins {
            let with = match &stand_in.exercise {
                Some(exercise) => format!(
                    "In its place: {}.",
                    self.words.name(Named::Exercise, exercise.as_str())
                ),
                None => String::from("Nothing stands in for it."),
            };
            self.page.hang(
                0,
                "Note   ",
                &format!("{} {with}", stand_in.said.words),
                Tone::Warning,
            );
        }
        self.page.hang(
            0,
            "Proof  ",
            &capital(&format!("{}.", proof(plan))),
            Tone::Plain,
        );
    }

    fn session(&mut self, session: &Session) {
        self.page.gap();
        let effort = self.words.name(Named::Effort, session.effort.as_str());
        let left = format!("{}, {effort}", weekday(session.day).to_uppercase());
        let lifts = many(session.lifts, "repetition", "repetitions");
        let right = format!("{}, {lifts}", many(session.minutes(), "minute", "minutes"));
        self.page.pair(0, &left, COLUMN, &right, Tone::Strong);
        if session.items.is_empty() {
            self.page.say(2, "nothing", Tone::Faint);
        }
        let mut part = None;
        for item in &session.items {
            if part != Some(item.slot) {
                part = Some(item.slot);
                let name = capital(self.words.name(Named::Part, item.part.as_str()));
                self.page.say(2, &name, Tone::Faint);
            }
            self.item(item);
        }
    }

    fn item(&mut self, item: &Item) {
        let role = self.words.name(Named::Role, item.role.as_str());
        self.page.pair(
            4,
            &capital(&item.name),
            COLUMN,
            &format!("{}  {role}", sets(item)),
            Tone::Strong,
        );
        match &item.load {
            Some(load) => {
                let of = self.words.name(Named::Reference, load.of.as_str());
                self.page.say(
                    BELOW,
                    &format!("{} of {of} = {}", percent(load.percent), span(load)),
                    Tone::Plain,
                );
                let pieces = if load.low_pieces == load.high_pieces {
                    side(&load.low_pieces)
                } else {
                    format!(
                        "{}, then up to {}",
                        side(&load.low_pieces),
                        side(&load.high_pieces)
                    )
                };
                self.page.hang(BELOW, "each side: ", &pieces, Tone::Plain);
                if let Some((from, percent)) = &load.estimated_from {
                    let from = self.words.name(Named::Reference, from.as_str());
                    let text = format!("an estimate: {of} taken as {percent} % of {from}");
                    self.page.say(BELOW, &text, Tone::Warning);
                }
            }
            None => self.page.say(BELOW, &item.feel, Tone::Plain),
        }
        self.page
            .hang(BELOW, "why: ", &self.plan.why(item), Tone::Faint);
        if self.layout.reasons == Reasons::Full {
            self.facts(item);
        }
    }

    fn facts(&mut self, item: &Item) {
        let mut seen = BTreeSet::new();
        // A stack of its own, as deep as the derivation.
        let mut open: Vec<(FactId, usize)> = vec![(item.placed, 0)];
        while let Some((id, depth)) = open.pop() {
            let Some(fact) = self.plan.trail.get(id).filter(|_| seen.insert(id)) else {
                continue;
            };
            let indent = BELOW + 2 * depth.min(8);
            self.page
                .hang(indent, "- ", &self.words.whole(fact.claim()), Tone::Faint);
            for cite in self.words.cites(fact) {
                self.page
                    .hang(indent + 2, "", &format!("[{cite}]"), Tone::Faint);
            }
            self.cited
                .extend(fact.cites().iter().map(|cited| cited.source.to_string()));
            open.extend(fact.from().iter().rev().map(|from| (*from, depth + 1)));
        }
    }

    fn foot(&mut self) {
        let plan = self.plan;
        self.page.gap();
        let sum = format!(
            "{} in {}.",
            many(plan.lifts, "repetition", "repetitions"),
            many(days(plan), "session", "sessions")
        );
        self.page.hang(0, "Week   ", &sum, Tone::Plain);
        for shortfall in &plan.shortfalls {
            let text = shortfall_in_words(&self.words, shortfall);
            self.page.hang(0, "Short  ", &text, Tone::Warning);
        }
        for missing in &plan.missing {
            let text = self.words.missing(missing);
            self.page
                .hang(0, "Open   ", &format!("{}.", capital(&text)), Tone::Plain);
        }
        for caution in &plan.cautions {
            self.page.hang(0, "Care   ", &caution.words, Tone::Warning);
        }
        self.page.hang(
            0,
            "Rules  ",
            &format!("fingerprint {}.", plan.fingerprint),
            Tone::Faint,
        );
        if self.layout.reasons == Reasons::Full {
            self.page.gap();
            self.page.say(0, "Sources", Tone::Strong);
            for id in std::mem::take(&mut self.cited) {
                let source = self.words.source(&id);
                self.page.hang(2, &format!("{id}: "), &source, Tone::Plain);
            }
        }
    }
}

fn days(plan: &Plan) -> i64 {
    let days = plan
        .sessions
        .iter()
        .filter(|session| !session.items.is_empty())
        .count();
    i64::try_from(days).unwrap_or(i64::MAX)
}

/// What outranked a bound that gave way, and what of the case ruled out what would have served it.
pub(crate) fn because_of(words: &Words<'_>, shortfall: &Shortfall) -> Vec<String> {
    let outranked = shortfall.outranked_by.iter().map(ToString::to_string);
    let fields = shortfall.ruled_out_by.iter();
    let fields = fields.map(|field| {
        format!(
            "the case's “{}”",
            words.name(Named::CaseField, field.as_str())
        )
    });
    let mut all: Vec<String> = outranked.chain(fields).collect();
    if all.is_empty() {
        all.push(String::from(
            "no single item put in or taken out would serve it",
        ));
    }
    all
}

/// A bound that gave way: which, by how much, where, and what outranked it.
pub(crate) fn shortfall_in_words(words: &Words<'_>, shortfall: &Shortfall) -> String {
    let days: Vec<String> = shortfall.days.iter().map(|day| weekday(*day)).collect();
    let on = if days.is_empty() {
        String::new()
    } else {
        format!(" on {}", days.join(", "))
    };
    format!(
        "{} is missed by {}{on} (it yields {}). Outranked by: {}.",
        capital(&words.ruling(&shortfall.ruling)),
        many(shortfall.units, "unit", "units"),
        shortfall.level.as_str(),
        because_of(words, shortfall).join(", ")
    )
}

impl NoWeek {
    /// What clashes, as text in lines of at most 80 columns.
    #[must_use]
    pub fn text(&self, layout: Layout) -> String {
        let words = Words::new(&self.glossary);
        let mut page = Page::new(layout.colour);
        page.say(
            0,
            "No week satisfies the hard rules for this case.",
            Tone::Strong,
        );
        page.gap();
        if self.clash.is_empty() {
            let layout = words.name(Named::Layout, self.layout.as_str());
            page.say(0, &format!("The days of the layout “{layout}” cannot be filled, whatever rules are left out."), Tone::Plain);
        } else {
            let head = if self.irreducible {
                "These cannot hold together; without any one of them the others can:"
            } else {
                "These cannot hold together:"
            };
            page.say(0, head, Tone::Plain);
            for clash in &self.clash {
                page.hang(2, "- ", &words.clashing(&clash.what), Tone::Plain);
            }
            page.gap();
            page.say(0, "What would help:", Tone::Plain);
            for clash in &self.clash {
                let alone = if clash.enough {
                    ""
                } else {
                    " (not enough by itself: more clashes)"
                };
                page.hang(
                    2,
                    "- ",
                    &format!("{}{alone}", words.relax(&clash.what)),
                    Tone::Plain,
                );
            }
        }
        page.gap();
        for caution in &self.cautions {
            page.hang(0, "Care   ", &caution.words, Tone::Warning);
        }
        page.hang(
            0,
            "Rules  ",
            &format!("fingerprint {}.", self.fingerprint),
            Tone::Faint,
        );
        page.done()
    }
}

impl NotFound {
    /// That nothing was found, as text in lines of at most 80 columns.
    #[must_use]
    pub fn text(&self) -> String {
        let mut page = Page::new(false);
        page.say(
            0,
            &format!(
                "No week was found within the limit of work, after {} nodes. There may be one: allow more work, or ask for less.",
                self.nodes
            ),
            Tone::Plain,
        );
        page.done()
    }
}
