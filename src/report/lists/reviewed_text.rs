//! What a training log says, laid out for people.

use crate::explain::{Decision, Review};
use crate::report::page::{Page, Tone};
use crate::report::words::{capital, reviewed as words};

use super::reviewed::review_case;

fn decided(page: &mut Page, indent: usize, held: &Decision) {
    let mark = format!("{}: ", held.decided.as_str().replace('-', " "));
    page.hang(indent, &mark, &held.says, Tone::Plain);
    page.hang(indent, "why: ", &held.because, Tone::Faint);
}

/// What a training log says, as text in lines of at most 80 columns.
#[must_use]
pub fn review_text(review: &Review, colour: bool) -> String {
    let mut page = Page::new(colour);
    page.say(0, &words::head(review), Tone::Strong);
    for line in words::method(review) {
        page.hang(2, "! ", &line, Tone::Warning);
    }
    for held in &review.faults {
        page.gap();
        page.say(0, &words::fault(held), Tone::Strong);
        page.say(2, "Full form", Tone::Plain);
        page.say(4, &format!("{}.", words::counts(&held.full)), Tone::Plain);
        if !held.full.by_week.is_empty() {
            page.hang(4, "by week: ", &words::by_week(&held.full), Tone::Faint);
        }
        for form in &held.exercises {
            page.say(2, &capital(&form.exercise.name), Tone::Plain);
            page.say(4, &words::in_exercise(form), Tone::Plain);
            if !form.counts.by_week.is_empty() {
                page.hang(4, "by week: ", &words::by_week(&form.counts), Tone::Faint);
            }
            if let Some(decision) = &form.decision {
                decided(&mut page, 4, decision);
            }
            if let Some(next) = &form.next {
                page.hang(4, "next: ", &words::next_step(next), Tone::Plain);
            }
        }
        if held.exercises.iter().all(|form| form.decision.is_none()) {
            match &held.decision {
                Some(decision) => decided(&mut page, 2, decision),
                None => page.say(2, words::NOTHING_DONE, Tone::Plain),
            }
        }
        page.hang(2, "in the next case: ", &words::becomes(held), Tone::Plain);
    }
    if !review.bests.is_empty() || !review.estimates.is_empty() {
        page.gap();
        page.say(0, "Bests", Tone::Strong);
        for held in &review.bests {
            page.say(2, &words::best(held), Tone::Plain);
        }
        for held in &review.estimates {
            page.say(2, &words::estimate(held), Tone::Plain);
            page.hang(4, "why: ", &held.because, Tone::Faint);
        }
        if !review.estimates.is_empty() {
            page.hang(2, "! ", words::ESTIMATES, Tone::Warning);
        }
    }
    page.gap();
    page.hang(0, "! ", words::CAUTION, Tone::Warning);
    page.gap();
    page.say(0, "The next case", Tone::Strong);
    for line in review_case(review).lines() {
        let indent = line.len() - line.trim_start().len();
        page.say(2 + indent, line.trim_start(), Tone::Plain);
    }
    page.done()
}
