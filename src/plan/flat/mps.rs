//! The free form of MPS.

use std::fmt::Write as _;

use super::open::{Column, OpenModel, Sense};

/// Writing to a text never fails.
macro_rules! put {
    ($out:expr, $($what:tt)*) => {{ let _never_fails = writeln!($out, $($what)*); }};
}

pub(super) fn write(model: &OpenModel) -> String {
    let mut out = String::new();
    for line in &model.about {
        put!(out, "* {line}");
    }
    if model.worth {
        put!(out, "* OBJ is worth with its sign turned round");
    } else {
        put!(out, "* OBJ is units missed");
    }
    put!(out, "NAME week");
    put!(out, "ROWS");
    put!(out, " N OBJ");
    for line in &model.lines {
        let sense = match line.sense {
            Sense::Most => 'L',
            Sense::Least => 'G',
            Sense::Equal => 'E',
        };
        put!(out, " {sense} {}", line.name);
    }
    put!(out, "COLUMNS");
    columns(model, &mut out);
    put!(out, "RHS");
    for line in model.lines.iter().filter(|line| line.amount != 0) {
        put!(out, " RHS {} {}", line.name, line.amount);
    }
    put!(out, "BOUNDS");
    for column in &model.columns {
        bounds(column, &mut out);
    }
    put!(out, "ENDATA");
    out
}

fn columns(model: &OpenModel, out: &mut String) {
    let mut entries: Vec<Vec<(&str, i64)>> = vec![Vec::new(); model.columns.len()];
    for line in &model.lines {
        for (column, times) in &line.terms {
            if let Some(held) = entries.get_mut(*column) {
                held.push((&line.name, *times));
            }
        }
    }
    let (mut whole, mut markers) = (false, 0);
    for (column, entries) in model.columns.iter().zip(entries) {
        if column.whole != whole {
            marker(column.whole, &mut markers, out);
            whole = column.whole;
        }
        let gain = if model.worth {
            -column.gain
        } else {
            column.gain
        };
        if gain != 0 || entries.is_empty() {
            put!(out, " {} OBJ {gain}", column.name);
        }
        for (line, times) in entries {
            put!(out, " {} {line} {times}", column.name);
        }
    }
    if whole {
        marker(false, &mut markers, out);
    }
}

fn marker(begins: bool, markers: &mut usize, out: &mut String) {
    *markers += 1;
    let what = if begins { "INTORG" } else { "INTEND" };
    put!(out, " MARK{markers} 'MARKER' '{what}'");
}

fn bounds(column: &Column, out: &mut String) {
    let name = &column.name;
    match (column.low, column.high) {
        (low, Some(high)) if low == high => put!(out, " FX BND {name} {low}"),
        (0, Some(1)) if column.whole => put!(out, " BV BND {name}"),
        (low, high) => {
            if low != 0 || column.whole {
                put!(out, " LO BND {name} {low}");
            }
            match high {
                Some(high) => put!(out, " UP BND {name} {high}"),
                // Some readers take a whole column without an upper bound for one of 0 or 1.
                None => put!(out, " PL BND {name}"),
            }
        }
    }
}
