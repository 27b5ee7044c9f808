//! Answers as text in lines of at most 80 columns.

mod done;
mod none;
mod sheet;
mod shortfall;

use crate::explain::{Answer, Plan};

pub(crate) use done::{percent, sets};
pub(crate) use sheet::REASON_WIDTH;
use sheet::Sheet;
pub(crate) use shortfall::because_of;

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
    /// Whether the lighter sets that lead to each item are written out.
    pub lighter_sets: bool,
    /// Whether escape codes of a terminal set some of it off.
    pub colour: bool,
}

impl Layout {
    /// With one sentence of reason for each item, no lighter sets and no colour.
    #[must_use]
    pub const fn new() -> Self {
        Self {
            reasons: Reasons::Brief,
            lighter_sets: false,
            colour: false,
        }
    }

    /// The same with more or less said of the reasons.
    #[must_use]
    pub const fn with_reasons(mut self, reasons: Reasons) -> Self {
        self.reasons = reasons;
        self
    }

    /// The same with or without the lighter sets that lead to each item.
    #[must_use]
    pub const fn with_lighter_sets(mut self, lighter_sets: bool) -> Self {
        self.lighter_sets = lighter_sets;
        self
    }

    /// The same with or without colour.
    #[must_use]
    pub const fn with_colour(mut self, colour: bool) -> Self {
        self.colour = colour;
        self
    }
}

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
        Sheet::of(self, layout).written()
    }
}
