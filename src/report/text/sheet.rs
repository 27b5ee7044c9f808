//! A week as a sheet that a coach can take along.

use std::collections::{BTreeMap, BTreeSet};

use crate::base::{ExerciseId, FactId};
use crate::explain::{Claim, Item, Named, Plan, Session, Waiting};
use crate::report::page::{Page, Tone, WIDTH};
use crate::report::words::{
    Words, against_it, bar_in_words, best_in_words, capital, lighter_bar_in_words, many, proof,
    seen_when, weekday,
};

use super::done::{lighter_sets, percent, sets, side, span};
use super::shortfall::shortfall_in_words;
use super::{Layout, Reasons};

/// Where what is done stands beside the name of an item.
const COLUMN: usize = 44;
/// How wide the words at the margin are.
const MARK: usize = 7;
/// How far lines below an item are indented.
const BELOW: usize = 6;

/// The characters that a reason may have on its line.
pub(crate) const REASON_WIDTH: usize = WIDTH - BELOW - 5;

/// How many exercises are named that work on a cause.
const NAMED: usize = 3;

/// What works on a cause most.
fn works_on_it(plan: &Plan, by: &[ExerciseId]) -> String {
    let items = || plan.sessions.iter().flat_map(|session| &session.items);
    let name = |id: &ExerciseId| {
        let mut named = items().filter(|item| item.exercise == *id);
        named.next().map(|item| item.name.as_str())
    };
    let names: Vec<&str> = by.iter().filter_map(name).take(NAMED).collect();
    against_it(&names)
}

pub(super) struct Sheet<'a> {
    plan: &'a Plan,
    words: Words<'a>,
    page: Page,
    layout: Layout,
    /// Why each item is there, by the fact that it is placed.
    why: BTreeMap<FactId, String>,
    /// By sentence: the day and exercise that have it first, and how often it was told.
    told: BTreeMap<String, (u8, String, u32)>,
    /// Sources named on the sheet.
    cited: BTreeSet<String>,
}

impl<'a> Sheet<'a> {
    pub(super) fn of(plan: &'a Plan, layout: Layout) -> Self {
        Self {
            plan,
            words: Words::new(&plan.glossary),
            page: Page::new(layout.colour),
            layout,
            why: plan.sentences(),
            told: BTreeMap::new(),
            cited: BTreeSet::new(),
        }
    }

    pub(super) fn written(mut self) -> String {
        self.head();
        let plan = self.plan;
        for session in &plan.sessions {
            self.session(session);
        }
        self.foot();
        self.page.done()
    }

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
                    "{}: {says}",
                    self.words.name(Named::CaseField, field.as_str())
                )
            });
            let said: Vec<String> = said.collect();
            self.mark("Case", &said.join(" · "), Tone::Plain);
        }
        self.bests();
        if !plan.missed_days.is_empty() {
            let days: Vec<String> = plan.missed_days.iter().map(|day| weekday(*day)).collect();
            let done = plan.sessions.iter().filter(|session| session.done);
            let done: Vec<String> = done.map(|session| weekday(session.day)).collect();
            let done = if done.is_empty() {
                String::new()
            } else {
                format!("Done: {}. ", done.join(", "))
            };
            let text = format!(
                "{done}Missed: {}. What is left of the week is made as good as it can be.",
                days.join(", ")
            );
            self.mark("So far", &text, Tone::Plain);
        }
        self.bar();
        self.seen();
        self.causes();
        for stand_in in &plan.stand_ins {
            let with = match &stand_in.exercise {
                Some(exercise) => format!(
                    "In its place: {}.",
                    self.words.name(Named::Exercise, exercise.as_str())
                ),
                None => String::from("Here none is allowed, and nothing stands in for it."),
            };
            let text = format!("{} {with}", stand_in.said.words);
            self.mark("Note", &text, Tone::Warning);
        }
        self.mark("Proof", &proof(plan), Tone::Plain);
    }

    /// A text that hangs from a word at the margin.
    fn mark(&mut self, mark: &str, text: &str, tone: Tone) {
        self.page.hang(0, &format!("{mark:<MARK$}"), text, tone);
    }

    fn bests(&mut self) {
        let plan = self.plan;
        let said: Vec<String> = plan
            .bests
            .iter()
            .map(|best| {
                let name = self.words.name(Named::Reference, best.reference.as_str());
                best_in_words(name, best, &plan.bar.unit)
            })
            .collect();
        if !said.is_empty() {
            // They are the case's too, and have the word before them.
            let mark = if plan.stated.is_empty() { "Case" } else { "" };
            self.mark(mark, &said.join(" · "), Tone::Plain);
        }
    }

    fn bar(&mut self) {
        let mut items = self.plan.sessions.iter().flat_map(|held| &held.items);
        if items.any(|item| item.load.is_some()) {
            let bar = &self.plan.bar;
            let name = self.words.name(Named::Bar, bar.bar.as_str());
            let text = bar_in_words(name, bar);
            self.mark("Bar", &text, Tone::Plain);
            for lighter in self.plan.lighter_bars() {
                let name = self.words.name(Named::Bar, lighter.bar.as_str());
                self.mark("", &lighter_bar_in_words(name, lighter), Tone::Plain);
            }
        }
    }

    fn seen(&mut self) {
        let plan = self.plan;
        let mut mark = "Seen";
        for seen in &plan.seen {
            let text = format!(
                "{} ({}): {}{}",
                capital(self.words.name(Named::Fault, seen.fault.as_str())),
                self.words.skill(seen.skill.as_str()),
                plan.glossary
                    .grade(seen.fault.as_str(), seen.grade.as_str()),
                seen_when(seen.times, seen.from_percent)
            );
            self.mark(mark, &text, Tone::Plain);
            mark = "";
            if let Some(said) = &seen.too_seldom {
                self.mark(mark, &said.words, Tone::Warning);
            }
        }
        for (_, fact) in plan.trail.iter() {
            if matches!(fact.claim(), Claim::Observed(_)) {
                let text = self.words.whole(fact.claim());
                self.mark(mark, &text, Tone::Plain);
                mark = "";
            }
        }
    }

    fn causes(&mut self) {
        let plan = self.plan;
        for worked in &plan.focus {
            let text = format!(
                "{} ({}{}): {} {}",
                capital(self.words.cause(worked.cause.as_str())),
                self.words.skill(worked.skill.as_str()),
                if worked.sure {
                    ", the coach's word"
                } else {
                    ""
                },
                plan.glossary.look_for(worked.cause.as_str()),
                works_on_it(plan, &worked.by)
            );
            self.mark("Work", &text, Tone::Plain);
        }
        // Causes of a skill that wait for the same are told together.
        let alike =
            |one: &Waiting, other: &Waiting| one.skill == other.skill && one.why == other.why;
        for waiting in plan.waiting.chunk_by(alike) {
            let causes: Vec<&str> = waiting
                .iter()
                .map(|held| self.words.cause(held.cause.as_str()))
                .collect();
            let Some(first) = waiting.first() else {
                continue;
            };
            let text = format!(
                "{} ({}): {}",
                capital(&causes.join(", ")),
                self.words.skill(first.skill.as_str()),
                self.words.waits_for(&first.why)
            );
            self.mark("Waits", &text, Tone::Plain);
        }
    }

    fn session(&mut self, session: &Session) {
        self.page.gap();
        let effort = self.words.name(Named::Effort, session.effort.as_str());
        let done = if session.done { ", done" } else { "" };
        let left = format!("{}, {effort}{done}", weekday(session.day).to_uppercase());
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
            self.item(item, session.day);
        }
    }

    fn item(&mut self, item: &Item, day: u8) {
        let role = self.words.role(item);
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
                let guessed = if load.estimated_from.is_some() {
                    ", estimated,"
                } else {
                    ""
                };
                let text = format!(
                    "{} of {of}{guessed} = {}",
                    percent(load.percent),
                    span(load)
                );
                self.page.say(BELOW, &text, Tone::Plain);
                if let Some(asked) = load.asked {
                    let why = if load.high_pieces.is_empty() {
                        "the bar alone is heavier"
                    } else if load.percent.1 < asked.1 {
                        "the gym's pieces make nothing nearer"
                    } else {
                        "the bar makes no less"
                    };
                    let text = format!("asked for: {}; {why}", percent(asked));
                    self.page.say(BELOW, &text, Tone::Warning);
                }
                let pieces = if load.low_pieces == load.high_pieces {
                    side(&load.low_pieces)
                } else {
                    format!(
                        "{}, then up to {}",
                        side(&load.low_pieces),
                        side(&load.high_pieces)
                    )
                };
                let pieces = if load.bar.bar == self.plan.bar.bar {
                    pieces
                } else {
                    let name = self.words.name(Named::Bar, load.bar.bar.as_str());
                    format!("{pieces}; on the {name}")
                };
                self.page.hang(BELOW, "each side: ", &pieces, Tone::Plain);
            }
            None => self.page.say(BELOW, &item.feel, Tone::Plain),
        }
        if self.layout.lighter_sets && !item.lighter_sets.is_empty() {
            self.page
                .hang(BELOW, "lighter sets: ", &lighter_sets(item), Tone::Plain);
        }
        for note in &item.notes {
            let text = self.told(item, day, note.words.clone());
            self.page.hang(BELOW, "note: ", &text, Tone::Warning);
        }
        if let Some(watch) = &item.watch {
            let text = self.told(item, day, format!("{}; {}.", watch.look, watch.lighten));
            self.page.hang(BELOW, "watch: ", &text, Tone::Plain);
        }
        if let Some(why) = self.why.get(&item.placed) {
            self.page.hang(BELOW, "why: ", why, Tone::Faint);
        }
        if self.layout.reasons == Reasons::Full {
            self.facts(item);
        }
    }

    /// What to look at; on a page that has it twice already, where it stands.
    /// A sentence beside an item; what was told twice is only pointed to.
    fn told(&mut self, item: &Item, day: u8, sentence: String) -> String {
        let (first, name, times) = self
            .told
            .entry(sentence.clone())
            .and_modify(|(_, _, times)| *times += 1)
            .or_insert((day, item.name.clone(), 1));
        if *times <= 2 {
            return sentence;
        }
        match (*first == day, *name == item.name) {
            (true, _) => String::from("as above."),
            (false, true) => format!("as on {}.", weekday(*first)),
            (false, false) => format!("as for {name} on {}.", weekday(*first)),
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
            "{}, {} in {}: the minutes are those of warm-up, lighter sets, rests and changes too.",
            many(plan.lifts, "repetition", "repetitions"),
            many(plan.minutes(), "minute", "minutes"),
            many(days(plan), "session", "sessions")
        );
        self.mark("Week", &sum, Tone::Plain);
        for shortfall in &plan.shortfalls {
            let text = shortfall_in_words(&self.words, shortfall);
            self.mark("Short", &text, Tone::Warning);
        }
        for made in &plan.composed {
            self.mark("New", &self.words.composed(made), Tone::Plain);
        }
        for missing in &plan.missing {
            let text = format!("{}.", capital(&self.words.missing(missing)));
            self.mark("Open", &text, Tone::Plain);
        }
        for caution in &plan.cautions {
            self.mark("Care", &caution.words, Tone::Warning);
        }
        let text = format!("fingerprint {}.", plan.fingerprint);
        self.mark("Rules", &text, Tone::Faint);
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
