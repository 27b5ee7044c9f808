//! What is handed out: columns, lines and what to make small or large.

/// Columns with what they are multiplied by.
pub(super) type Terms = Vec<(usize, i64)>;

/// A column.
#[derive(Debug, Clone)]
pub(super) struct Column {
    pub(super) name: String,
    /// Whether it only takes whole numbers; the others do at a best week, too.
    pub(super) whole: bool,
    pub(super) low: i64,
    pub(super) high: Option<i64>,
    /// What one of it adds to the objective.
    pub(super) gain: i64,
}

/// How a line's sum stands to its amount.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Sense {
    Most,
    Least,
    Equal,
}

/// A line: a sum over columns, held against an amount.
#[derive(Debug, Clone)]
pub(super) struct Line {
    pub(super) name: String,
    pub(super) terms: Terms,
    pub(super) sense: Sense,
    pub(super) amount: i64,
}

/// The whole week as a linear model in whole numbers, for any solver of such models.
///
/// The columns say which item stands on which day (`x_d1_PART_EXERCISE_ROLE` is 1), in which place of
/// its part where order matters, what is missed and what is reached; the lines are named after the
/// rules that they come from. All numbers are integers: worth is in hundredths of a point, as in
/// [`crate::Plan::worth`], and missed units are those of [`crate::Plan::missed`]. The tie measure,
/// which only chooses among weeks of equal worth, is left out.
#[derive(Debug, Clone)]
pub struct OpenModel {
    /// Whether the objective is made large: worth. Else it is made small: units missed.
    pub(super) worth: bool,
    pub(super) columns: Vec<Column>,
    pub(super) lines: Vec<Line>,
    /// What stands above it as comments.
    pub(super) about: Vec<String>,
}

impl OpenModel {
    /// The model in the free form of MPS. There the objective is always made small, so that worth
    /// stands in it with its sign turned round.
    #[must_use]
    pub fn mps(&self) -> String {
        super::mps::write(self)
    }

    /// The model as LP text, with hyphens of ids written as full stops, since a hyphen takes away
    /// there.
    #[must_use]
    pub fn lp(&self) -> String {
        super::lp::write(self)
    }

    /// Whether the objective is worth, to be made as large as can be; else it is units missed, to
    /// be made as few as can be.
    #[must_use]
    pub const fn seeks_worth(&self) -> bool {
        self.worth
    }

    /// How many columns there are.
    #[must_use]
    pub fn columns(&self) -> usize {
        self.columns.len()
    }

    /// How many lines there are.
    #[must_use]
    pub fn lines(&self) -> usize {
        self.lines.len()
    }
}
