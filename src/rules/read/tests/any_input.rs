//! No input makes reading fail other than by a diagnostic.

use std::collections::BTreeMap;

use proptest::prelude::*;
use serde::Deserialize;

use super::file;
use crate::base::{At, Decimal, QualityId};
use crate::rules::read::{Limits, parse, read_item};

#[derive(Debug, Deserialize)]
#[serde(rename_all = "kebab-case")]
enum Word {
    One,
    TwoWords,
}

#[derive(Debug, Deserialize)]
#[serde(rename_all = "kebab-case")]
#[allow(dead_code)]
struct Thing {
    id: At<QualityId>,
    #[serde(default)]
    number: Option<Decimal>,
    word: Word,
    #[serde(default)]
    list: Vec<At<u8>>,
    #[serde(default)]
    map: BTreeMap<At<QualityId>, Box<Thing>>,
    #[serde(default)]
    flag: bool,
}

const GOOD: &str = "\
id: speed
number: 2.5
word: two-words
list: [1, 2, 3]
map:
  power: {id: \"x\", word: one}
  more:
    id: z
    word: one
    list:
      - 1
flag: true
# a comment
";

/// Pieces that YAML gives a meaning.
const PIECES: &[&str] = &[
    "\n",
    "  ",
    "- ",
    ": ",
    "? ",
    "#",
    " # ",
    "\"",
    "'",
    "[",
    "]",
    "{",
    "}",
    ", ",
    "&a ",
    "*a",
    "!t ",
    "|",
    ">-",
    "---\n",
    "...\n",
    "%YAML 1.2\n",
    "~",
    "null",
    "<<: ",
    "\t",
    "\r",
    "\u{feff}",
    "é",
    "\u{2028}",
    "\0",
    "\\x",
    "a",
    "id",
    "list",
    "word: one\n",
    "012",
    "-1",
    "\u{10ffff}",
];

/// Reads a text as everything; whatever comes of it, a refusal has a reason.
fn read_all(text: &str) -> Result<(), TestCaseError> {
    let mut out = Vec::new();
    let limits = Limits::default().with_depth(12).with_nodes(2_000);
    let Some(node) = parse(text, &file(), &limits, &mut out) else {
        prop_assert!(!out.is_empty());
        prop_assert!(out.iter().all(|d| d.place.line > 0 && !d.help.is_empty()));
        return Ok(());
    };
    let marked = !out.is_empty();
    prop_assert!(out.iter().all(|d| d.place.line > 0 && !d.help.is_empty()));
    out.clear();
    let mut again = Vec::new();
    let thing = read_item::<Thing>(&node, "thing", &mut out);
    prop_assert!(thing.is_none() || out.is_empty());
    prop_assert!(thing.is_some() || marked || !out.is_empty());
    prop_assert!(out.iter().all(|d| d.place.line > 0 && !d.help.is_empty()));
    prop_assert!(out.is_sorted());
    read_item::<Thing>(&node, "thing", &mut again);
    prop_assert_eq!(&again, &out);
    read_item::<Vec<At<String>>>(&node, "list", &mut out);
    read_item::<BTreeMap<QualityId, Thing>>(&node, "map", &mut out);
    read_item::<BTreeMap<u8, (i64, bool)>>(&node, "map", &mut out);
    read_item::<Word>(&node, "word", &mut out);
    read_item::<serde::de::IgnoredAny>(&node, "any", &mut out);
    read_item::<serde_json::Value>(&node, "any", &mut out);
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(3_000))]

    #[test]
    fn any_text(text in "(?s).{0,60}") {
        read_all(&text)?;
    }

    #[test]
    fn any_row_of_pieces(pieces in prop::collection::vec(prop::sample::select(PIECES), 0..40)) {
        read_all(&pieces.concat())?;
    }

    #[test]
    fn any_change_to_a_good_text(
        changes in prop::collection::vec(
            (any::<prop::sample::Index>(), 0_usize..4, prop::sample::select(PIECES)),
            1..6,
        )
    ) {
        let mut text: Vec<char> = GOOD.chars().collect();
        for (index, drop, piece) in changes {
            let from = index.index(text.len() + 1);
            let to = (from + drop).min(text.len());
            text.splice(from..to, piece.chars());
        }
        read_all(&text.into_iter().collect::<String>())?;
    }
}

#[test]
fn the_text_that_is_changed_is_good() {
    let mut out = Vec::new();
    let node = parse(GOOD, &file(), &Limits::default(), &mut out);
    let thing = node.and_then(|node| read_item::<Thing>(&node, "thing", &mut out));
    assert!(thing.is_some() && out.is_empty(), "{out:?}");
}
