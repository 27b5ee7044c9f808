//! LP text: an objective, lines, bounds, and which columns are whole.

use std::fmt::Write as _;

use super::open::{OpenModel, Sense, Terms};

/// Writing to a text never fails.
macro_rules! put {
    ($out:expr, $($what:tt)*) => {{ let _never_fails = write!($out, $($what)*); }};
}

/// Characters after which a line of the text is broken: readers take no endless lines.
const WIDE: usize = 200;

pub(super) fn write(model: &OpenModel) -> String {
    let mut out = String::new();
    for line in &model.about {
        put!(out, "\\ {line}\n");
    }
    let (head, what) = if model.worth {
        ("Maximize", "worth")
    } else {
        ("Minimize", "units missed")
    };
    put!(out, "\\ OBJ is {what}\n{head}\n OBJ:");
    let gains: Terms = model
        .columns
        .iter()
        .enumerate()
        .filter(|(_, column)| column.gain != 0)
        .map(|(at, column)| (at, column.gain))
        .collect();
    // An objective that nothing adds to still names a column.
    let none = [(0, 0)];
    sum(
        model,
        if gains.is_empty() { &none } else { &gains },
        &mut out,
    );
    put!(out, "\nSubject To\n");
    for line in &model.lines {
        put!(out, " {}:", named(&line.name));
        sum(model, &line.terms, &mut out);
        let sense = match line.sense {
            Sense::Most => "<=",
            Sense::Least => ">=",
            Sense::Equal => "=",
        };
        put!(out, " {sense} {}\n", line.amount);
    }
    put!(out, "Bounds\n");
    for column in &model.columns {
        let name = named(&column.name);
        match (column.low, column.high) {
            (low, Some(high)) if low == high => put!(out, " {name} = {low}\n"),
            (0, Some(1)) if column.whole => {}
            (low, Some(high)) => put!(out, " {low} <= {name} <= {high}\n"),
            (0, None) => {}
            (low, None) => put!(out, " {name} >= {low}\n"),
        }
    }
    let zero_or_one = |low: i64, high: Option<i64>| low == 0 && high == Some(1);
    for (head, binary) in [("Binaries", true), ("Generals", false)] {
        put!(out, "{head}\n");
        let which = model
            .columns
            .iter()
            .filter(|column| column.whole && zero_or_one(column.low, column.high) == binary);
        for column in which {
            put!(out, " {}\n", named(&column.name));
        }
    }
    put!(out, "End\n");
    out
}

/// Ids hold no full stop, so that no two names become one.
fn named(name: &str) -> String {
    name.replace('-', ".")
}

fn sum(model: &OpenModel, terms: &[(usize, i64)], out: &mut String) {
    let mut from = out.rfind('\n').map_or(0, |at| at + 1);
    for (at, times) in terms {
        if out.len() - from > WIDE {
            put!(out, "\n  ");
            from = out.len() - 2;
        }
        let name = model
            .columns
            .get(*at)
            .map_or(String::new(), |column| named(&column.name));
        let sign = if *times < 0 { '-' } else { '+' };
        put!(out, " {sign} {} {name}", times.unsigned_abs());
    }
}
