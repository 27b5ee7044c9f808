//! What texts are read as, and what is refused in them.

use rstest::rstest;

use super::{brief, file, tree};
use crate::rules::read::{Kind, Limits, Node, Style, parse};

/// A tree as one line: scalars by their text, places left out.
fn flat(node: &Node) -> String {
    match &node.kind {
        Kind::Scalar(scalar) => format!("{:?}", scalar.text),
        Kind::Refused => String::from("?"),
        Kind::List(items) => format!("[{}]", items.iter().map(flat).collect::<Vec<_>>().join(" ")),
        Kind::Map(entries) => {
            let entries: Vec<String> = entries
                .iter()
                .map(|(key, value)| format!("{}:{}", key.text, flat(value)))
                .collect();
            format!("{{{}}}", entries.join(" "))
        }
    }
}

#[rstest]
#[case("a: 1\nb: [x, y z]\n", r#"{a:"1" b:["x" "y z"]}"#)]
#[case("a: {b: {}, c: []}", "{a:{b:{} c:[]}}")]
#[case(
    "a: no\nb: 1:30\nc: 012\nd: \"null\"",
    r#"{a:"no" b:"1:30" c:"012" d:"null"}"#
)]
#[case("a: >\n  b\n  c\n", r#"{a:"b c\n"}"#)]
#[case("---\na: 1\n", r#"{a:"1"}"#)]
#[case("\u{feff}a: 1\r\nb: 2\r\n", r#"{a:"1" b:"2"}"#)]
#[case("just text", r#""just text""#)]
#[case("'<<': a", r#"{<<:"a"}"#)]
fn reads(#[case] text: &str, #[case] wanted: &str) {
    assert_eq!(flat(&tree(text)), wanted);
}

#[rstest]
#[case("a: one # two")]
#[case("a: [one two] # three")]
#[case("a: \"one two\" # three")]
#[case("a: 'one two' # three")]
#[case("a: one two#three four")]
#[case("a: one two\n# three")]
#[case("a: |\n  one two # three")]
#[case("a: |+\n  one two # three\n\n")]
#[case("a: # three\n  one two")]
fn leaves_ordinary_comments_alone(#[case] text: &str) {
    tree(text);
}

#[test]
fn everything_knows_its_place_in_characters() {
    let root = tree("ä:\n  - ü: \"ö x\"  # é\n    z: {k: v}\n");
    assert_eq!(root.place.to_string(), "a.yaml:1:1");
    let (key, list) = root.entry("ä").unwrap();
    assert_eq!(key.place.to_string(), "a.yaml:1:1");
    assert_eq!(list.place.to_string(), "a.yaml:2:3");
    let [item] = list.as_list().unwrap() else {
        unreachable!()
    };
    let (_, text) = item.entry("ü").unwrap();
    assert_eq!(text.place.to_string(), "a.yaml:2:8");
    assert_eq!(text.as_text(), Some("ö x"));
    assert!(matches!(&text.kind, Kind::Scalar(s) if s.style == Style::Quoted));
    let (_, map) = item.entry("z").unwrap();
    assert_eq!(map.place.to_string(), "a.yaml:3:8");
    assert_eq!(map.entry("k").unwrap().1.place.to_string(), "a.yaml:3:12");
    assert!(map.entry("none").is_none() && text.entry("k").is_none());
}

#[rstest]
#[case::syntax("a: [1, 2\nb: 3", &[("syntax", 2, 2)])]
#[case::syntax_of_indentation("a: 1\n  b: 2", &[("syntax", 2, 4)])]
#[case::anchor("a: &x 1", &[("anchor", 1, 4)])]
#[case::anchor_and_alias("a: &x 1\nb: *x\nc: [*x]", &[("anchor", 1, 4), ("anchor", 2, 4), ("anchor", 3, 5)])]
#[case::alias_to_nothing("a: *x", &[("anchor", 1, 4)])]
#[case::anchor_on_map("a: &x {b: 1}", &[("anchor", 1, 4)])]
#[case::merge("a: 1\n<<: {b: 1}\nc: ~", &[("merge-key", 2, 1), ("null", 3, 1)])]
#[case::tag("a: !t 1\nb: !!str x\nc: !u [1]", &[("tag", 1, 4), ("tag", 2, 4), ("tag", 3, 4)])]
#[case::nulls("a: null\nb: ~\nc:\nd: [Null, NULL]\n", &[("null", 1, 1), ("null", 2, 1), ("null", 3, 1), ("null", 4, 5), ("null", 4, 11)])]
#[case::null_items("- \n- a\n", &[("null", 1, 3)])]
#[case::null_keys("~: 1\nb: 2", &[("null", 1, 1)])]
#[case::keys_only("{a, b: 1}", &[("null", 1, 2)])]
#[case::null_text("~", &[("null", 1, 1)])]
#[case::second("a: 1\n---\nb: 2\n---\nc: 3", &[("second-document", 2, 1)])]
#[case::empty("", &[("empty-file", 1, 1)])]
#[case::comments_only("# a\n\n# b\n", &[("empty-file", 1, 1)])]
#[case::dashes_only("---\n", &[("empty-file", 1, 1)])]
#[case::key_not_text("? [a]\n: 1\n? {b: 2}\n: 3\nc:\n", &[("key-not-text", 1, 3), ("key-not-text", 3, 3), ("null", 5, 1)])]
#[case::duplicates("a: 1\nb: {c: 1, c: 2}\na: [x]\n\"a\": 3", &[("duplicate-key", 2, 11), ("duplicate-key", 3, 1), ("duplicate-key", 4, 1)])]
#[case::swallowed("a: two words # more\nb: ü ö\t# é", &[("swallowed-comment", 1, 4), ("swallowed-comment", 2, 4)])]
#[case::swallowed_in_list("- one\n- two words  #more", &[("swallowed-comment", 2, 3)])]
#[case::swallowed_in_flow("{a: two words # more\n}", &[("swallowed-comment", 1, 5)])]
#[case::swallowed_after_lines("a: one\n   two words # more\n", &[("swallowed-comment", 1, 4)])]
#[case::swallowed_and_going_on("a: two words # more\n   still more", &[("swallowed-comment", 1, 4)])]
#[case::two_readings("true: 1\nTrue: 2", &[("two-readings", 1, 1)])]
#[case::several("a: ~\nb: two words # x\nc: &y 1\nd: ]", &[("null", 1, 1), ("swallowed-comment", 2, 4), ("anchor", 3, 4), ("syntax", 4, 4)])]
fn refuses(#[case] text: &str, #[case] wanted: &[(&str, u32, u32)]) {
    let mut out = Vec::new();
    parse(text, &file(), &Limits::default(), &mut out);
    assert_eq!(brief(&out), wanted, "{out:?}");
}

#[test]
fn a_duplicate_key_points_to_the_first() {
    let mut out = Vec::new();
    parse("b: 1\na: 1\na: 2", &file(), &Limits::default(), &mut out);
    let (place, note) = out.first().unwrap().also.first().unwrap();
    assert_eq!((place.line, place.column), (2, 1));
    assert!(!note.is_empty());
}

#[rstest]
#[case::bytes("a: 123", Limits::default().with_bytes_per_file(5), ("too-large", 1, 1))]
#[case::depth("a: [{b: 1}]", Limits::default().with_depth(2), ("too-deep", 1, 5))]
#[case::nodes("a: 1\nb: 2", Limits::default().with_nodes(4), ("too-many-nodes", 2, 4))]
fn keeps_to_the_limits(
    #[case] text: &str,
    #[case] limits: Limits,
    #[case] wanted: (&str, u32, u32),
) {
    let mut out = Vec::new();
    assert!(parse(text, &file(), &limits, &mut out).is_none());
    assert_eq!(brief(&out), [wanted]);
    let mut out = Vec::new();
    assert!(parse(text, &file(), &Limits::default(), &mut out).is_some());
}

#[test]
fn gives_up_after_a_hundred_problems() {
    let mut out = Vec::new();
    let text = "- ~\n".repeat(5_000);
    assert!(parse(&text, &file(), &Limits::default(), &mut out).is_none());
    assert_eq!(out.len(), 101);
    assert_eq!(brief(&out).last().unwrap(), &("too-many-problems", 100, 3));
}

#[rstest]
#[case("[")]
#[case("{")]
#[case("{a: ")]
#[case("- ")]
#[case("? ")]
#[case("a:\n ")]
#[case("[a, {b: ")]
fn deep_nesting_uses_up_no_stack(#[case] opening: &str) {
    let mut out = Vec::new();
    let text = opening.repeat(100_000);
    let limits = Limits::default().with_depth(1_000_000);
    assert!(parse(&text, &file(), &limits, &mut out).is_none());
    assert!(!out.is_empty());
}

#[test]
fn one_long_line_takes_no_long_time() {
    let text = format!("[{}]", "two words, ".repeat(50_000));
    tree(&text);
}
