//! What items are read as, and how everything wrong with them is told.

use std::collections::BTreeMap;

use indexmap::IndexMap;
use rstest::rstest;
use serde::{Deserialize, Deserializer, Serialize};

use super::{brief, tree};
use crate::base::{At, Decimal, Diagnostic, ExerciseId, QualityId, SkillId};
use crate::rules::read::{read_item, read_key};

#[derive(Debug, Clone, Copy, PartialEq, Deserialize, Serialize)]
#[serde(rename_all = "kebab-case")]
enum Effort {
    Heavy,
    VeryLight,
}

#[derive(Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
struct Range {
    from: u8,
    to: u8,
}

/// A range whose ends must be in order.
#[derive(Debug, PartialEq)]
struct Ordered(Range);

impl<'de> Deserialize<'de> for Ordered {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let range = Range::deserialize(deserializer)?;
        if range.from > range.to {
            return Err(serde::de::Error::custom("`from` must not be above `to`"));
        }
        Ok(Self(range))
    }
}

#[derive(Debug, PartialEq, Deserialize)]
struct Share(i64);

#[derive(Debug, PartialEq, Deserialize)]
#[serde(rename_all = "kebab-case")]
struct Item {
    name: String,
    effort: At<Effort>,
    #[serde(default)]
    sets: Option<Ordered>,
    #[serde(default)]
    with: Vec<At<ExerciseId>>,
    #[serde(default)]
    trains: IndexMap<At<QualityId>, At<u16>>,
    #[serde(default)]
    weight: Option<Decimal>,
    #[serde(default)]
    share_of: Option<Share>,
    #[serde(default)]
    alone: bool,
    #[serde(default)]
    pair: Option<(u8, Effort)>,
    #[serde(default)]
    inner: Option<Box<Item>>,
    #[serde(default)]
    small: BTreeMap<u8, i32>,
}

const GOOD: &str = "\
name: 12
effort: very-light
sets: {from: 1, to: 3}
with: [a, b-2]
trains:
  speed: 3
  power: 2
weight: 2.5
share-of: -40
alone: true
pair: [3, heavy]
inner: {name: x, effort: heavy, trains: {}}
small: {1: -2}
";

fn read(text: &str) -> (Option<Item>, Vec<Diagnostic>) {
    let mut out = Vec::new();
    let item = read_item(&tree(text), "things.one", &mut out);
    assert_eq!(item.is_some(), out.is_empty());
    (item, out)
}

#[test]
fn reads_all_that_belongs_into_an_item() {
    let (item, out) = read(GOOD);
    assert!(out.is_empty(), "{out:?}");
    let item = item.unwrap();
    assert_eq!(item.name, "12");
    assert_eq!(*item.effort, Effort::VeryLight);
    assert_eq!(item.effort.place.to_string(), "a.yaml:2:9");
    assert_eq!(item.sets, Some(Ordered(Range { from: 1, to: 3 })));
    let places: Vec<String> = item.with.iter().map(|w| w.place.to_string()).collect();
    assert_eq!(places, ["a.yaml:4:8", "a.yaml:4:11"]);
    let (key, value) = item.trains.get_index(1).unwrap();
    assert_eq!((key.as_str(), **value), ("power", 2));
    assert_eq!(key.place.to_string(), "a.yaml:7:3");
    assert_eq!(value.place.to_string(), "a.yaml:7:10");
    assert_eq!(item.weight.unwrap().to_string(), "2.5");
    assert_eq!(item.share_of, Some(Share(-40)));
    assert!(item.alone);
    assert_eq!(item.pair, Some((3, Effort::Heavy)));
    assert_eq!(item.small.get(&1), Some(&-2));
    assert!(item.inner.unwrap().trains.is_empty());
}

/// One problem each, put into a good item in place of the line of its key.
#[rstest]
#[case::wrong_type("sets: [1, 2]", ("wrong-type", 1, 7), "a map with the keys `from`, `to`, not a list")]
#[case::wrong_type("with: a", ("wrong-type", 1, 7), "a list, not the text `a`")]
#[case::wrong_type("trains: [a]", ("wrong-type", 1, 9), "a map, not a list")]
#[case::wrong_type("alone: [true]", ("wrong-type", 1, 8), "true or false, not a list")]
#[case::wrong_type("alone: True", ("wrong-type", 1, 8), "true or false, not `True`")]
#[case::wrong_type("alone: \"true\"", ("wrong-type", 1, 8), "true or false")]
#[case::wrong_type("effort: [heavy]", ("wrong-type", 1, 9), "one of `heavy`, `very-light`, not a list")]
#[case::wrong_type("weight: [1]", ("wrong-type", 1, 9), "a number, not a list")]
#[case::wrong_type("with: [[a]]", ("wrong-type", 1, 8), "`things.one.with[1]` must be an id, not a list")]
#[case::wrong_type("name: [x]", ("wrong-type", 1, 7), "must be a text")]
#[case::wrong_type("share-of: \"4\"", ("wrong-type", 1, 11), "not the text \"4\"")]
#[case::wrong_type("pair: [1]", ("wrong-type", 1, 7), "a list of 2, not of 1")]
#[case::bad_number("share-of: 4.5", ("bad-number", 1, 11), "`things.one.share-of` must be a whole number, not `4.5`")]
#[case::bad_number("share-of: 1_000", ("bad-number", 1, 11), "whole number")]
#[case::bad_number("share-of: 0x1f", ("bad-number", 1, 11), "whole number")]
#[case::bad_number("share-of: +1", ("bad-number", 1, 11), "whole number")]
#[case::bad_number("share-of: 012", ("bad-number", 1, 11), "`012`")]
#[case::bad_number("share-of: -0", ("bad-number", 1, 11), "`-0`")]
#[case::bad_number("share-of: ten", ("bad-number", 1, 11), "not `ten`")]
#[case::bad_number("weight: 2,5", ("bad-number", 1, 9), "`2,5`")]
#[case::out_of_range("weight: 2000000", ("out-of-range", 1, 9), "1000000")]
#[case::out_of_range("sets: {from: 1, to: 256}", ("out-of-range", 1, 21), "`things.one.sets.to` must be a whole number from 0 to 255")]
#[case::out_of_range("trains: {speed: -1}", ("out-of-range", 1, 17), "from 0 to 65535")]
#[case::out_of_range("share-of: 9223372036854775808", ("out-of-range", 1, 11), "whole number")]
#[case::out_of_range("small: {256: 1}", ("out-of-range", 1, 9), "from 0 to 255")]
#[case::unknown_word("effort: hevy", ("unknown-word", 1, 9), "can't be `hevy`")]
#[case::bad_id("with: [a, \"B C\"]", ("bad-id", 1, 11), "`B C` is not an id")]
#[case::bad_id("trains: {Speed: 1}", ("bad-id", 1, 10), "`Speed` is not an id")]
#[case::bad_id("with: [no]", ("bad-id", 1, 8), "truth value")]
#[case::bad_value("sets: {from: 3, to: 1}", ("bad-value", 1, 7), "`from` must not be above `to`")]
#[case::unknown_key("sts: {from: 1, to: 2}", ("unknown-key", 1, 1), "`sts` means nothing in `things.one`")]
#[case::unknown_key("sets: {from: 1, to: 2, zz: 3}", ("unknown-key", 1, 24), "`zz` means nothing in `things.one.sets`")]
#[case::missing_key("sets: {from: 1}", ("missing-key", 1, 7), "`things.one.sets` lacks the key `to`")]
fn tells_one_problem(#[case] line: &str, #[case] wanted: (&str, u32, u32), #[case] words: &str) {
    let key = line.split(':').next().unwrap();
    let mut text = format!("{line}\n");
    for good in ["name: x\n", "effort: heavy\n"] {
        if !good.starts_with(key) {
            text.push_str(good);
        }
    }
    let (_, out) = read(&text);
    assert_eq!(brief(&out), [wanted], "{out:?}");
    let what = &out.first().unwrap().what;
    assert!(what.contains(words), "{what}");
}

#[test]
fn help_names_what_was_meant() {
    let (_, out) = read("name: x\nefort: heavy\nwith: [Hang Start]\nsets: {from: 1, til: 2}\n");
    let wanted = [
        ("unknown-key", 2, 1),
        ("bad-id", 3, 8),
        ("missing-key", 4, 7),
        ("unknown-key", 4, 17),
    ];
    assert_eq!(brief(&out), wanted, "{out:?}");
    let help: Vec<&str> = out.iter().map(|d| d.help.as_str()).collect();
    let [key, id, missing, unknown] = help.as_slice() else {
        unreachable!()
    };
    assert!(key.starts_with("did you mean `effort`? Allowed here: `name`, `effort`"));
    assert_eq!(*id, "write it as `hang-start`");
    assert_eq!(*missing, "add `to:` with its value");
    assert_eq!(*unknown, "allowed here: `from`, `to`");
}

#[test]
fn tells_all_problems_of_an_item_at_once() {
    let text = "\
effort: hevy
sets: {from: ten, to: 999, x: 1}
with: [A, b, C]
trains: {S: 1, p: x}
alone: yes
inner:
  sets: {}
";
    let (_, out) = read(text);
    let wanted = [
        ("missing-key", 1, 1),
        ("unknown-word", 1, 9),
        ("bad-number", 2, 14),
        ("out-of-range", 2, 23),
        ("unknown-key", 2, 28),
        ("bad-id", 3, 8),
        ("bad-id", 3, 14),
        ("bad-id", 4, 10),
        ("bad-number", 4, 19),
        ("wrong-type", 5, 8),
        ("missing-key", 7, 3),
        ("missing-key", 7, 3),
        ("missing-key", 7, 9),
        ("missing-key", 7, 9),
    ];
    assert_eq!(brief(&out), wanted, "{out:#?}");
}

#[test]
fn what_follows_from_a_problem_is_not_told() {
    // `from: 9` is above the stand-in for `to`, but that is nobody's mistake.
    let (_, out) = read("name: x\neffort: heavy\nsets: {from: 9, to: x}\n");
    assert_eq!(brief(&out), [("bad-number", 3, 21)]);
    // `nam` was meant for `name`, so that nothing is missing.
    let (_, out) = read("nam: x\neffort: heavy\n");
    assert_eq!(brief(&out), [("unknown-key", 1, 1)]);
    assert!(
        out.first()
            .unwrap()
            .help
            .starts_with("did you mean `name`?")
    );
}

#[test]
fn an_item_of_the_wrong_kind_is_one_problem() {
    let (_, out) = read("[1, 2]");
    assert_eq!(brief(&out), [("wrong-type", 1, 1)]);
    assert!(
        out.first()
            .unwrap()
            .what
            .starts_with("`things.one` must be a map with the keys `name`")
    );
}

#[test]
fn gives_up_after_fifty_problems() {
    let text = format!("name: x\neffort: heavy\nwith: [{}]\n", "A, ".repeat(500));
    let (_, out) = read(&text);
    assert_eq!(out.len(), 51);
    assert_eq!(brief(&out).first().unwrap(), &("too-many-problems", 1, 1));
}

#[test]
fn a_type_that_refuses_every_stand_in_leaves_its_owner_out() {
    #[derive(Debug)]
    struct Never;
    impl<'de> Deserialize<'de> for Never {
        fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
            let text = String::deserialize(deserializer)?;
            Err(serde::de::Error::custom(format!("`{text}` never fits")))
        }
    }
    #[derive(Debug, Deserialize)]
    struct Owner {
        #[serde(rename = "never")]
        _never: Never,
        #[serde(rename = "other")]
        _other: u8,
    }
    let mut out = Vec::new();
    let node = tree("- {never: a, other: 1}\n- {never: b, other: x}\n- {other: 1000}\n");
    assert!(read_item::<Vec<Owner>>(&node, "list", &mut out).is_none());
    let wanted = [
        ("bad-value", 1, 11),
        ("bad-value", 2, 11),
        ("missing-key", 3, 3),
        ("out-of-range", 3, 11),
    ];
    assert_eq!(brief(&out), wanted, "{out:#?}");
    assert_eq!(out.first().unwrap().what, "`a` never fits");
}

#[test]
fn floats_are_not_read() {
    let mut out = Vec::new();
    assert!(read_item::<f64>(&tree("1.5"), "x", &mut out).is_none());
    assert_eq!(brief(&out), [("bad-number", 1, 1)]);
}

#[test]
fn reads_single_keys() {
    let root = tree("snatch: 1\nBig Lift: 2\n");
    let mut out = Vec::new();
    let keys: Vec<Option<At<SkillId>>> = root
        .as_map()
        .unwrap()
        .iter()
        .map(|(key, _)| read_key(key, "skills", &mut out))
        .collect();
    let [Some(first), None] = keys.as_slice() else {
        unreachable!("{keys:?}")
    };
    assert_eq!((first.as_str(), first.place.line), ("snatch", 1));
    assert_eq!(brief(&out), [("bad-id", 2, 1)]);
    assert_eq!(out.first().unwrap().help, "write it as `big-lift`");
}
