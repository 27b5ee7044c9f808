//! Where things come from.

use crate::base::Code;
use crate::rules::read::{Kind, Node};

use super::Checks;
use super::date::days_of;
use super::items::items;
use super::sections::Sort;

/// Checks that every source that is stated names one, and the dates of the authors' own.
pub(super) fn check(checks: &mut Checks<'_, '_>) {
    for item in items(checks.pack) {
        if let Some(node) = checks.node(item.sort, item.id) {
            sources(checks, node);
        }
    }
    for (id, source) in &checks.pack.expert_set {
        if days_of(&source.date).is_none() {
            let place = checks.place(Sort::Source, id.as_str(), &["date"]);
            let what = format!("`{}` is no day of the calendar", source.date);
            checks.problem(
                Code::BadValue,
                place,
                what,
                "write a date as YYYY-MM-DD, such as 2026-02-28",
            );
        }
    }
}

/// A source that is stated must name one.
fn sources(checks: &mut Checks<'_, '_>, node: &Node) {
    match &node.kind {
        Kind::Scalar(_) | Kind::Refused => {}
        Kind::List(items) => items.iter().for_each(|item| sources(checks, item)),
        Kind::Map(entries) => {
            for (key, value) in entries {
                if key.text == "source" && value.as_map().is_some_and(<[_]>::is_empty) {
                    checks.problem(
                        Code::EmptyMap,
                        value.place.clone(),
                        "`source` names no source",
                        "write `source: {SOURCE-ID: where in it}`; what the authors set is a source too",
                    );
                }
                sources(checks, value);
            }
        }
    }
}
