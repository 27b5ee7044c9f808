//! No word of the built-in pack stands in the source: what it speaks of is data.

use std::collections::{BTreeMap, BTreeSet};

use serde_yaml::Value;

use super::source::{sources, words};
use crate::corpus::texts;
use crate::laws::pack::Pack;
use crate::laws::same::ids;

/// Ids and names of the pack that are words of the rule language or plain English in the source, and why.
const PLAIN: [(&str, &str); 25] = [
    (
        "common-practice",
        "a key of the rule language: a variant of `sources`",
    ),
    (
        "expert-set",
        "a key of the rule language: a variant of `sources`",
    ),
    (
        "competition",
        "a key of the rule language: `form: competition`",
    ),
    (
        "complexes",
        "a key of the rule language: a variant of `exercises`",
    ),
    (
        "days",
        "a key of the rule language: `layouts`, `counted-in`",
    ),
    (
        "blocks",
        "training blocks: several weeks in a row; a kind of the rule language",
    ),
    ("minutes", "a key of the rule language: a rule kind"),
    (
        "help",
        "a key of the rule language: of roles; and of diagnostics, what to do",
    ),
    ("holds", "a key of the rule language: of axes"),
    (
        "variation",
        "a thing of the rule language: a variant of `exercises`",
    ),
    ("two-days", "a scope of rules: what stands on two days"),
    ("two days", "a scope of rules: what stands on two days"),
    ("level", "of what gives way: first, middle, last"),
    ("missed", "units that a week misses"),
    ("limits", "of what is read: bytes, depth, nodes"),
    ("start", "where something begins"),
    (
        "general",
        "checks of any value; the general claim after the special ones",
    ),
    ("clear", "empties a collection"),
    ("back", "to go back"),
    (
        "drop",
        "to take out: a constraint of an exercise, an entry of a file",
    ),
    ("split", "to part a text at a sign, a search in two"),
    (
        "stands",
        "where something is written, and whether a week may stand",
    ),
    ("hang", "how far the further lines of a paragraph hang"),
    (
        "heavy",
        "in one message: a list of pieces runs from heavy to light",
    ),
    (
        "light",
        "in one message: a list of pieces runs from heavy to light",
    ),
];

/// Names in words of all things of the pack.
fn names(value: &Value, into: &mut BTreeSet<String>) {
    match value {
        Value::Mapping(map) => {
            for (key, inner) in map {
                match (key.as_str(), inner) {
                    (Some("en"), Value::Sequence(all)) => {
                        into.extend(all.iter().filter_map(Value::as_str).map(str::to_owned));
                    }
                    _ => names(inner, into),
                }
            }
        }
        Value::Sequence(items) => items.iter().for_each(|item| names(item, into)),
        _ => {}
    }
}

fn pack_words() -> BTreeSet<String> {
    let pack = Pack::new(&texts("rules"), "{}");
    let mut all: BTreeSet<String> = ids(&pack).into_iter().collect();
    names(&Value::Mapping(pack.kinds), &mut all);
    assert!(all.len() > 1_000, "{} words", all.len());
    all
}

/// An identifier as an id would be written: `BarPath` and `bar_path` as `bar-path`.
fn as_id(word: &str) -> String {
    let mut id = String::new();
    for (at, c) in word.char_indices() {
        let after_lower = word[..at].ends_with(|c: char| c.is_lowercase() || c.is_ascii_digit());
        if c.is_uppercase() && after_lower {
            id.push('-');
        }
        id.extend(if c == '_' { '-' } else { c }.to_lowercase());
    }
    id
}

/// Words and word groups of a literal that may be ids or names: each word, and the whole.
fn in_literal<'a>(
    literal: &'a str,
    of_pack: &'a BTreeSet<String>,
) -> impl Iterator<Item = String> + 'a {
    let word = |c: char| c.is_alphanumeric() || c == '-';
    let single = literal
        .split(move |c| !word(c))
        .map(|word| word.trim_matches('-').to_owned());
    let long = of_pack.iter().filter(move |held| {
        held.contains(' ')
            && literal.match_indices(held.as_str()).any(|(at, found)| {
                !literal[..at].ends_with(word) && !literal[at + found.len()..].starts_with(word)
            })
    });
    single.chain(long.cloned())
}

#[test]
fn no_word_of_the_pack_is_an_identifier_or_a_literal() {
    let of_pack = pack_words();
    let plain: BTreeMap<&str, &str> = PLAIN.into_iter().collect();
    let (mut wrong, mut used) = (BTreeSet::new(), BTreeSet::new());
    for source in sources()
        .iter()
        .filter(|source| source.path != "src/builtin.rs")
    {
        let identifiers = words(&source.code).map(as_id);
        let literals = source
            .literals
            .iter()
            .flat_map(|literal| in_literal(literal, &of_pack));
        for word in identifiers
            .chain(literals)
            .filter(|word| of_pack.contains(word))
        {
            if plain.contains_key(word.as_str()) {
                used.insert(word);
            } else {
                wrong.insert(format!("{}: {word}", source.path));
            }
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
    let unused: Vec<&&str> = plain.keys().filter(|word| !used.contains(**word)).collect();
    assert!(
        unused.is_empty(),
        "exceptions that nothing needs: {unused:?}"
    );
}

#[test]
fn identifiers_are_read_as_ids() {
    assert_eq!(as_id("BarPath"), "bar-path");
    assert_eq!(as_id("bar_path"), "bar-path");
    assert_eq!(as_id("SNATCH"), "snatch");
    let of_pack = BTreeSet::from([String::from("bar path"), String::from("snatch")]);
    let found: Vec<String> = in_literal("the bar path, a snatch", &of_pack).collect();
    assert!(found.contains(&String::from("bar path")) && found.contains(&String::from("snatch")));
}
