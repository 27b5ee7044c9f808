//! A training block: an overview with small bars, a table a week, and what changes between weeks.

use serde::{Deserialize, Serialize};

use crate::explain::{
    Answer, Beyond, BlockWeek, DoneInWeek, Item, Named, TrainingBlock, WeekChange,
};
use crate::report::json::{AnswerDocument, FORMAT, WeekDocument, document, this_format};
use crate::report::page::{Page, Tone, WIDTH, broken};
use crate::report::text::{Reasons, percent, sets};
use crate::report::words::{Words, capital, coursed, weekday};

use super::bar::bar;

document! {
    /// A training block.
    BlockDocument {
        /// The format, 1.
        #[serde(deserialize_with = "this_format")]
        #[cfg_attr(feature = "schema", schemars(range(min = 1, max = 1)))]
        format: u32,
        /// The fingerprint of the rules.
        fingerprint: String,
        /// The label of the case; it may be empty.
        lifter: String,
        /// How its weeks are laid out.
        laid_out: String,
        /// Its name.
        name: String,
        /// Why.
        because: String,
        /// What is proven of the weeks together, and what is not.
        proof: String,
        /// The figures of each week, in this order.
        figures: Vec<FigureEntryDocument>,
        /// Days that the case says, on which other blocks end, and that lie after this one.
        beyond: Vec<BeyondDocument>,
        /// Its weeks.
        weeks: Vec<BlockWeekDocument>,
        /// What there is instead of the next week, where it could not be gone on with.
        stopped: Option<AnswerDocument>,
    }
}

document! {
    /// A figure that is taken of each week.
    FigureEntryDocument {
        /// The figure.
        figure: String,
        /// Its name.
        name: String,
        /// What it is of.
        means: String,
        /// Whether it is in percent.
        percent: bool,
    }
}

document! {
    /// A day to which a block does not lead.
    BeyondDocument {
        /// The case field that says it.
        field: String,
        /// YYYY-MM-DD.
        on: String,
        /// The week that it is in, counted like those of the block.
        week: i64,
        /// The same in words.
        says: String,
    }
}

document! {
    /// A week of a block.
    BlockWeekDocument {
        /// Counted from 1.
        number: u16,
        /// Its Monday as YYYY-MM-DD, where the case says what day it is.
        begins: Option<String>,
        /// Its phase.
        phase: String,
        /// The case field of which its place in the block says something.
        field: Option<String>,
        /// What it says, in words.
        says: Option<String>,
        /// Its figures, in the order of the block's; null where there is nothing to take it of.
        figures: Vec<Option<FigureDocument>>,
        /// What is otherwise than in the week before.
        changes: Vec<WeekChangeDocument>,
        /// The week.
        week: WeekDocument,
    }
}

document! {
    /// A figure of a week.
    FigureDocument {
        /// In the figure's unit.
        value: i64,
        /// The least that it should be.
        from: Option<i64>,
        /// The most that it should be.
        to: Option<i64>,
        /// Whether it lies where it should.
        within: bool,
    }
}

document! {
    /// How an exercise is done in a week.
    DoneInWeekDocument {
        /// On so many days.
        days: i64,
        /// Sets in all.
        sets: i64,
        /// Repetitions in all.
        reps: i64,
        /// The highest percent of its reference.
        top: Option<i64>,
        /// What it is in the week for.
        roles: Vec<String>,
    }
}

document! {
    /// What is otherwise than in the week before.
    WeekChangeDocument {
        /// The exercise.
        exercise: String,
        /// Its name.
        name: String,
        /// How it was done; null where it was not there.
        was: Option<DoneInWeekDocument>,
        /// How it is done now; null where it is not there any more.
        is: Option<DoneInWeekDocument>,
        /// In how many weeks in a row it has been done.
        weeks: i64,
        /// Why, in words.
        why: Vec<String>,
    }
}

fn done(held: &DoneInWeek) -> DoneInWeekDocument {
    DoneInWeekDocument {
        days: held.days,
        sets: held.sets,
        reps: held.reps,
        top: held.top,
        roles: held.roles.iter().map(|role| role.id.to_string()).collect(),
    }
}

/// Each reason of a change in words.
fn reasons(held: &BlockWeek) -> Vec<(&WeekChange, Vec<String>)> {
    let words = Words::new(&held.plan.glossary);
    let sentences = held.plan.sentences();
    let all = held.changes.iter().map(|change| {
        let why = change.why.iter();
        let why = why.map(|why| coursed::why(&words, change, why, &sentences));
        (change, why.collect())
    });
    all.collect()
}

fn week_document(held: &BlockWeek) -> BlockWeekDocument {
    let figures = held.figures.iter().map(|value| {
        value.as_ref().map(|value| FigureDocument {
            value: value.value,
            from: value.range.as_ref().map(|(from, ..)| *from),
            to: value.range.as_ref().map(|(_, to, _)| *to),
            within: value.is_within(),
        })
    });
    let changes = reasons(held).into_iter();
    let changes = changes.map(|(change, why)| WeekChangeDocument {
        exercise: change.exercise.id.to_string(),
        name: change.exercise.name.clone(),
        was: change.was.as_ref().map(done),
        is: change.is.as_ref().map(done),
        weeks: change.weeks,
        why,
    });
    BlockWeekDocument {
        number: held.number,
        begins: held.begins.clone(),
        phase: held.phase.id.to_string(),
        field: held.says.as_ref().map(|(field, _)| field.to_string()),
        says: held.says.as_ref().map(|(_, says)| says.clone()),
        figures: figures.collect(),
        changes: changes.collect(),
        week: held.plan.document(Reasons::Brief),
    }
}

/// A training block as a document.
#[must_use]
pub fn block_document(block: &TrainingBlock) -> BlockDocument {
    let figures = block.figures.iter().map(|held| FigureEntryDocument {
        figure: held.figure.id.to_string(),
        name: held.figure.name.clone(),
        means: held.means.clone(),
        percent: held.percent,
    });
    let stopped = block.stopped.as_deref();
    BlockDocument {
        format: FORMAT,
        fingerprint: block.fingerprint.clone(),
        lifter: block.lifter.clone(),
        laid_out: block.laid_out.id.to_string(),
        name: block.laid_out.name.clone(),
        because: block.because.because.clone(),
        proof: coursed::CHAIN.to_owned(),
        figures: figures.collect(),
        beyond: block.beyond.iter().map(beyond_document).collect(),
        weeks: block.weeks.iter().map(week_document).collect(),
        stopped: stopped.map(|answer: &Answer| answer.document(Reasons::Brief)),
    }
}

fn beyond_document(held: &Beyond) -> BeyondDocument {
    BeyondDocument {
        field: held.field.id.to_string(),
        on: held.on.clone(),
        week: held.week,
        says: coursed::beyond(held),
    }
}

/// How wide a drawn figure is, its bar and the space before the next with it.
const FIGURE: usize = 11;
/// Where what is done stands beside the name of an item.
const COLUMN: usize = 40;

/// The weeks one below the other, with the figures that are drawn.
fn overview(block: &TrainingBlock, page: &mut Page) {
    let kinds: Vec<String> = block.weeks.iter().map(coursed::kind).collect();
    let dated = block.weeks.iter().any(|week| week.begins.is_some());
    let lead = |number: &str, begins: &str| {
        let begins = if dated {
            format!("{begins:<10} ")
        } else {
            String::new()
        };
        format!("{number:>2}  {begins}")
    };
    let used = lead("", "").chars().count();
    let kind_width = kinds
        .iter()
        .map(|kind| kind.chars().count())
        .max()
        .unwrap_or(0);
    let room = (WIDTH + 1 - used).saturating_sub(kind_width + 2) / FIGURE;
    let drawn = block.figures.iter().enumerate();
    let drawn: Vec<_> = drawn
        .filter(|(_, figure)| figure.drawn)
        .take(room)
        .collect();
    let heads: Vec<Vec<String>> = drawn
        .iter()
        .map(|(_, figure)| broken(&figure.figure.name, FIGURE - 1))
        .collect();
    let empty = String::new();
    for line in 0..heads.iter().map(Vec::len).max().unwrap_or(0) {
        let mut text = format!("{}{:kind_width$}  ", lead("", ""), "");
        for head in &heads {
            text.push_str(&format!("{:<FIGURE$}", head.get(line).unwrap_or(&empty)));
        }
        page.row(text.trim_end(), Tone::Faint);
    }
    for (week, kind) in block.weeks.iter().zip(&kinds) {
        let begins = week.begins.as_deref().unwrap_or("");
        let mut text = lead(&week.number.to_string(), begins);
        text.push_str(&format!("{kind:<kind_width$}  "));
        for (at, figure) in &drawn {
            let values = block
                .weeks
                .iter()
                .filter_map(|week| week.figures.get(*at)?.as_ref());
            let values: Vec<i64> = values.map(|value| value.value).collect();
            let ends = values.iter().min().zip(values.iter().max());
            let ends = ends.map_or((0, 0), |(least, most)| (*least, *most));
            let value = week.figures.get(*at).and_then(Option::as_ref);
            let said = value.map_or_else(String::new, |value| {
                let mark = if value.is_within() { "" } else { "!" };
                let percent = if figure.percent { " %" } else { "" };
                format!("{} {}{percent}{mark}", bar(value.value, ends), value.value)
            });
            text.push_str(&format!("{said:<FIGURE$}"));
        }
        page.row(text.trim_end(), Tone::Plain);
    }
}

/// An item on one line.
fn item(page: &mut Page, words: &Words<'_>, held: &Item) {
    let load = held.percent.map_or_else(String::new, percent);
    let role = words.name(Named::Role, held.role.as_str());
    let right = format!("{:<11} {load:<8} {role}", sets(held));
    page.pair(4, &held.name, COLUMN, right.trim_end(), Tone::Plain);
}

fn week(block: &TrainingBlock, held: &BlockWeek, page: &mut Page) {
    let words = Words::new(&held.plan.glossary);
    page.gap();
    page.say(0, &coursed::week(held), Tone::Strong);
    if held.number > 1 && held.changes.is_empty() {
        page.say(2, "as in the week before", Tone::Plain);
        return;
    }
    for session in &held.plan.sessions {
        let effort = words.name(Named::Effort, session.effort.as_str());
        let day = capital(&weekday(session.day));
        page.say(
            2,
            &format!("{day}, {effort}, {} minutes", session.minutes()),
            Tone::Faint,
        );
        for held in &session.items {
            item(page, &words, held);
        }
    }
    let figures = block.figures.iter().zip(&held.figures);
    let figures: Vec<_> = figures
        .filter_map(|(entry, value)| Some((entry, value.as_ref()?)))
        .collect();
    let said: Vec<String> = figures
        .iter()
        .map(|(entry, value)| coursed::figure(entry, value))
        .collect();
    if !said.is_empty() {
        page.hang(2, "figures: ", &said.join("; "), Tone::Plain);
    }
    for text in figures
        .iter()
        .filter_map(|(entry, value)| coursed::outside(entry, value))
    {
        page.hang(2, "! ", &text, Tone::Warning);
    }
    page.hang(2, "proof: ", &coursed::proof(held), Tone::Faint);
    // What has the same reasons is told together.
    let mut told: Vec<(Vec<&WeekChange>, Vec<String>)> = Vec::new();
    for (change, why) in reasons(held) {
        match told.iter_mut().find(|(_, other)| *other == why) {
            Some((changes, _)) => changes.push(change),
            None => told.push((vec![change], why)),
        }
    }
    for (changes, why) in told {
        for change in changes {
            let mark = match (&change.was, &change.is) {
                (None, _) => "+ ",
                (_, None) => "- ",
                _ => "~ ",
            };
            page.hang(2, mark, &coursed::change(change), Tone::Plain);
        }
        for why in why {
            page.hang(4, "why: ", &why, Tone::Faint);
        }
    }
}

/// A training block as text, in lines of at most 80 columns.
#[must_use]
pub fn block_text(block: &TrainingBlock, colour: bool) -> String {
    let mut page = Page::new(colour);
    page.say(0, &coursed::head(block), Tone::Strong);
    page.say(0, &block.because.because, Tone::Plain);
    for line in coursed::aims(block) {
        page.say(0, &line, Tone::Plain);
    }
    page.gap();
    overview(block, &mut page);
    page.gap();
    page.hang(0, "Proof  ", coursed::CHAIN, Tone::Plain);
    for held in &block.beyond {
        page.hang(0, "Open   ", &coursed::beyond(held), Tone::Plain);
    }
    for held in &block.weeks {
        week(block, held, &mut page);
    }
    if let Some(answer) = &block.stopped {
        let number = block.weeks.last().map_or(1, |week| week.number + 1);
        page.gap();
        page.say(
            0,
            &format!("Week {number} could not be made:"),
            Tone::Warning,
        );
        for line in answer.text(crate::report::Layout::new()).lines() {
            page.say(2, line, Tone::Plain);
        }
    }
    page.gap();
    let mut said: Vec<&str> = Vec::new();
    for caution in block.weeks.iter().flat_map(|week| &week.plan.cautions) {
        if !said.contains(&caution.words.as_str()) {
            said.push(&caution.words);
        }
    }
    for caution in said {
        page.hang(0, "! ", caution, Tone::Warning);
    }
    page.hang(0, "! ", coursed::CAUTION, Tone::Warning);
    page.done()
}
