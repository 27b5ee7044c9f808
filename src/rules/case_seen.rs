//! How often a fault of a case was seen, and from which load on.

use crate::base::{At, Code};

use super::case::SeenFault;
use super::case_read::Checking;

/// More attempts than anyone watches.
pub(super) const MOST_ATTEMPTS: u16 = 1_000;

/// The highest percent of a best at which a fault may start: attempts beyond the best are made too.
pub(super) const MOST_PERCENT: u8 = 120;

impl Checking<'_> {
    /// In how many attempts of how many.
    pub(super) fn times(&mut self, fault: &SeenFault) -> Option<(u16, u16)> {
        match (&fault.seen, &fault.of) {
            (None, None) => None,
            (Some(there), None) => {
                self.lacks(
                    there,
                    "`seen` says in how many attempts, and `of` is missing",
                    "add `of:` with how many attempts were watched, or take `seen` out",
                );
                None
            }
            (None, Some(there)) => {
                self.lacks(
                    there,
                    "`of` says how many attempts were watched, and `seen` is missing",
                    "add `seen:` with in how many of them it was seen, or take `of` out",
                );
                None
            }
            (Some(seen), Some(of)) => {
                let both = self.attempts(seen, "seen") & self.attempts(of, "of");
                if both && seen.value > of.value {
                    self.problem(
                        Code::OutOfRange,
                        &seen.place,
                        format!("a fault cannot be seen in {seen} of {of} attempts"),
                        "let `seen` be no more than `of`",
                    );
                    return None;
                }
                both.then_some((seen.value, of.value))
            }
        }
    }

    fn lacks(&mut self, there: &At<u16>, what: &str, help: &str) {
        self.problem(Code::MissingKey, &there.place, what, help);
    }

    pub(super) fn attempts(&mut self, number: &At<u16>, key: &str) -> bool {
        let holds = (1..=MOST_ATTEMPTS).contains(&number.value);
        if !holds {
            self.problem(
                Code::OutOfRange,
                &number.place,
                format!("`{key}` cannot be {number}"),
                format!("write 1 to {MOST_ATTEMPTS}, or leave out a fault that was not seen"),
            );
        }
        holds
    }

    /// The load at which it starts.
    pub(super) fn starts_at(&mut self, fault: &SeenFault) -> Option<u8> {
        let percent = fault.from_percent.as_ref()?;
        if (1..=MOST_PERCENT).contains(&percent.value) {
            return Some(percent.value);
        }
        self.problem(
            Code::OutOfRange,
            &percent.place,
            format!("a fault cannot start at {percent} % of the best"),
            format!("write 1 to {MOST_PERCENT}, or leave it out"),
        );
        None
    }
}
