//! A second reading of the same text by another YAML reader: a rule file that two readers take for
//! different things is refused, since people use other tools on these files as well.

use std::collections::HashSet;

use super::seen::Seen;
use super::tree::{Key, Kind, Node, Scalar, Standing, Style};
use crate::base::{Code, Diagnostic, Place};

/// Reports the first place where the second reader sees something else; whether there is none. What
/// has been told is not compared.
pub(super) fn compare(text: &str, node: &Node, out: &mut Vec<Diagnostic>) -> bool {
    // What aliases lead to would be read as often as they stand.
    let is_apart = |told: &Diagnostic| matches!(told.code, Code::Anchor | Code::SecondDocument);
    if out.iter().any(is_apart) {
        return true;
    }
    let told = out.iter().map(|told| told.place.clone()).collect();
    let differs = match serde_yaml::from_str::<Seen>(text) {
        Ok(value) => difference(node, &value, &told),
        Err(_) if !out.is_empty() => None,
        Err(error) => {
            let number = |n: usize| u32::try_from(n).unwrap_or(u32::MAX).max(1);
            let place = error.location().map_or_else(
                || Place::start_of(&node.place.file),
                |at| Place::new(&node.place.file, number(at.line()), number(at.column())),
            );
            Some((place, format!("another YAML reader refuses this: {error}")))
        }
    };
    if let Some((place, what)) = differs {
        out.push(Diagnostic::new(
            Code::TwoReadings,
            place,
            what,
            "write it more plainly: put texts in quotes, and each key on a line of its own",
        ));
        return false;
    }
    true
}

/// The first place, in the order of the text, where tree and value differ, and how.
fn difference(node: &Node, value: &Seen, told: &HashSet<Place>) -> Option<(Place, String)> {
    if told.contains(&node.place) && matches!(value, Seen::Tagged) {
        return None;
    }
    let seen = match (&node.kind, value) {
        (Kind::Refused, _) => return None,
        (Kind::Scalar(scalar), _) => return scalar_difference(scalar, value, &node.place),
        (Kind::List(items), Seen::List(values)) => {
            if items.len() == values.len() {
                return items
                    .iter()
                    .zip(values)
                    .find_map(|(item, value)| difference(item, value, told));
            }
            format!(
                "one YAML reader sees {} items here, another {}",
                items.len(),
                values.len()
            )
        }
        (Kind::Map(entries), Seen::Map(values)) => {
            for ((key, item), (other, value)) in entries.iter().zip(values) {
                if key.standing != Standing::Refused
                    && let Some(found) = key_difference(key, other)
                {
                    return Some(found);
                }
                if let Some(found) = difference(item, value, told) {
                    return Some(found);
                }
            }
            if entries.len() == values.len() {
                return None;
            }
            format!(
                "one YAML reader sees {} keys here, another {}",
                entries.len(),
                values.len()
            )
        }
        _ => format!(
            "one YAML reader sees {} here, another {}",
            node.in_words(),
            in_words(value)
        ),
    };
    Some((node.place.clone(), seen))
}

fn scalar_difference(scalar: &Scalar, value: &Seen, at: &Place) -> Option<(Place, String)> {
    let same = match value {
        // Readers disagree on the last line break of a block at the end of a file without one.
        Seen::Text(text) if scalar.style == Style::Block => {
            text.trim_end_matches('\n') == scalar.text.trim_end_matches('\n')
        }
        Seen::Text(text) => *text == scalar.text,
        // Which words are numbers or truth values is for the reading type to say, not for YAML.
        Seen::Number(_) | Seen::Truth(_) => scalar.style == Style::Plain,
        _ => false,
    };
    if same {
        return None;
    }
    let what = format!(
        "one YAML reader sees a text here, another {}",
        in_words(value)
    );
    Some((at.clone(), what))
}

fn key_difference(key: &Key, other: &Seen) -> Option<(Place, String)> {
    let scalar = Scalar {
        text: key.text.clone(),
        style: key.style,
    };
    scalar_difference(&scalar, other, &key.place)
}

fn in_words(value: &Seen) -> &'static str {
    match value {
        Seen::Nothing => "nothing",
        Seen::Truth(_) => "a truth value",
        Seen::Number(_) => "a number",
        Seen::Text(_) => "a different text",
        Seen::List(_) => "a list",
        Seen::Map(_) => "a map",
        Seen::Tagged => "a tagged value",
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use std::sync::Arc;

    use rstest::rstest;

    use super::super::{Limits, parse};
    use super::*;

    /// The two readers agree on nearly everything, so the difference is made by reading two texts.
    #[rstest]
    #[case("a: 1\nb: [1, 2]", "a: 1\nb: [1]", 2, 4)]
    #[case("a: 1\nb: {c: 1}", "a: 1\nb: {c: 1, d: 2}", 2, 4)]
    #[case("a: 1\nb: 2", "a: 1\nc: 2", 2, 1)]
    #[case("a: 1\nb: 2", "b: 2\na: 1", 1, 1)]
    #[case("a: 1\nb: 2", "a: [1]\nb: 2", 1, 4)]
    #[case("a: [1]", "a: 1", 1, 4)]
    #[case("a: {b: 1}", "a: [b]", 1, 4)]
    #[case("a: \"1\"", "a: 1", 1, 4)]
    #[case("a: x", "a: y", 1, 4)]
    #[case("a: x", "a:", 1, 4)]
    #[case("a: x", "a: !t x", 1, 4)]
    #[case("a: x", "a: [", 2, 1)]
    #[case("a: ü", "é: 1\na: [", 3, 1)]
    fn reports_the_first_difference(
        #[case] one: &str,
        #[case] other: &str,
        #[case] line: u32,
        #[case] column: u32,
    ) {
        let mut out = Vec::new();
        let file: Arc<str> = Arc::from("a.yaml");
        let node = parse(one, &file, &Limits::default(), &mut out).unwrap();
        assert!(out.is_empty());
        compare(other, &node, &mut out);
        let [found] = out.as_slice() else {
            unreachable!("{out:?}")
        };
        assert_eq!(found.code, Code::TwoReadings);
        assert_eq!((found.place.line, found.place.column), (line, column));
        assert!(!found.help.is_empty());
    }

    #[rstest]
    #[case("a: 012\nb: 1:30\nc: no\nd: 0x1f\ne: 1e3\nf: 2026-01-10\n12: x\ntrue: y")]
    #[case("a: |\n  x # y\n  z\nb: >\n  p\n  q\n\n  r\nc: \"\\u00e9 \\\n  s\"\nd: 'it''s'")]
    fn has_nothing_against_what_only_types_differ_in(#[case] text: &str) {
        let mut out = Vec::new();
        let node = parse(text, &Arc::from("a.yaml"), &Limits::default(), &mut out);
        assert!(node.is_some() && out.is_empty(), "{out:?}");
    }
}
