//! What may be wrong with any value, wherever it stands: empty ranges, blank texts, empty filters.

use crate::base::{Code, Place};
use crate::rules::read::{Kind, Node};
use crate::rules::vocab::{Condition, DayFilter, FieldTest, Range, Selector};

use super::Checks;
use super::items::items;
use super::sections::Sort;
use super::walk::{Spot, Visit};

/// Checks every value of every item.
pub(super) fn check(checks: &mut Checks<'_, '_>) {
    for item in items(checks.pack) {
        let node = checks.node(item.sort, item.id);
        let layout = item.sort == Sort::Layout;
        item.walk(&mut General {
            checks,
            node,
            layout,
        });
    }
}

struct General<'c, 'p, 't> {
    checks: &'c mut Checks<'p, 't>,
    node: Option<&'t Node>,
    layout: bool,
}

impl General<'_, '_, '_> {
    fn problem(&mut self, code: Code, place: Place, what: impl Into<String>, help: &str) {
        self.checks.problem(code, place, what, help);
    }

    /// A map that asks for something must have keys, and none of them may be empty.
    fn not_empty(&mut self, spot: &Spot<'_, '_>, what: &str, help: &str) {
        let Some(Node {
            kind: Kind::Map(entries),
            place,
        }) = spot.node(self.node)
        else {
            return;
        };
        if entries.is_empty() {
            self.problem(
                Code::EmptyMap,
                place.clone(),
                format!("{what} is empty"),
                help,
            );
        }
        for (key, value) in entries {
            // An inner map that asks for something is met by itself.
            let own = key.text == "case"
                || key.text == "case-of-skill"
                || key.text == "case-of-day"
                || key.text == "demand"
                || key.text == "trains";
            let empty = match &value.kind {
                Kind::List(items) => items.is_empty(),
                Kind::Map(entries) => entries.is_empty() && own,
                Kind::Scalar(_) | Kind::Refused => false,
            };
            if empty {
                let what = format!("`{}` is empty and asks for nothing", key.text);
                self.problem(
                    Code::EmptyMap,
                    value.place.clone(),
                    what,
                    "write what it asks for, or take the key out",
                );
            }
        }
    }
}

impl<'p> Visit<'p> for General<'_, '_, '_> {
    fn text(&mut self, text: &'p str, spot: &Spot<'_, 'p>) {
        if text.trim().is_empty() {
            let place = spot.place(self.node);
            self.problem(
                Code::BadValue,
                place,
                "this text is blank",
                "write something here, or take the key out",
            );
        }
    }

    fn range(&mut self, range: Range, spot: &Spot<'_, 'p>) {
        match (range.at_least, range.at_most) {
            (Some(least), Some(most)) if least > most => {
                let place = spot.place(self.node);
                let what = format!("nothing is at least {least} and at most {most}");
                self.problem(
                    Code::Contradiction,
                    place,
                    what,
                    "let `at-least` be no more than `at-most`",
                );
            }
            (None, None) => {
                let place = spot.place(self.node);
                let help = "write `at-least`, `at-most` or both";
                self.problem(Code::EmptyMap, place, "this range has no end", help);
            }
            _ => {}
        }
    }

    fn test(&mut self, test: &'p FieldTest, spot: &Spot<'_, 'p>) {
        self.not_empty(
            spot,
            "this test",
            "write what the field must be, such as `is: [...]`, or take it out",
        );
        self.range_of_test(test, spot);
    }

    fn condition(&mut self, _: &'p Condition, spot: &Spot<'_, 'p>) {
        // A layout may be for every case; anything else that asks for nothing is a slip.
        let whole_layout = self.layout && spot.up().is_some_and(|up| up.up().is_none());
        if !whole_layout {
            self.not_empty(
                spot,
                "this condition",
                "write what it asks of the case, or take it out",
            );
        }
    }

    fn selector(&mut self, selector: &'p Selector, spot: &Spot<'_, 'p>) {
        self.not_empty(
            spot,
            "this selector",
            "say what it selects; everything is `{everything: true}`",
        );
        let Some(Node {
            kind: Kind::Map(entries),
            place,
        }) = spot.node(self.node)
        else {
            return;
        };
        if selector.everything && entries.len() > 1 {
            let what = "`everything` stands beside other keys, which it makes meaningless or is made so by";
            self.problem(
                Code::Contradiction,
                place.clone(),
                what,
                "take `everything` out, or all the others",
            );
        } else if !selector.everything && entries.iter().any(|(key, _)| key.text == "everything") {
            let help = "take it out, or write `everything: true` and nothing else";
            self.problem(
                Code::Contradiction,
                place.clone(),
                "`everything: false` selects nothing",
                help,
            );
        }
    }

    fn days(&mut self, _: &'p DayFilter, spot: &Spot<'_, 'p>) {
        self.not_empty(
            spot,
            "this choice of days",
            "say which days, or take it out for all days",
        );
    }
}

impl General<'_, '_, '_> {
    fn range_of_test(&mut self, test: &FieldTest, spot: &Spot<'_, '_>) {
        if let (Some(least), Some(most)) = (test.at_least, test.at_most)
            && least > most
        {
            let place = spot.place(self.node);
            let what = format!("nothing is at least {least} and at most {most}");
            self.problem(
                Code::Contradiction,
                place,
                what,
                "let `at-least` be no more than `at-most`",
            );
        }
    }
}
