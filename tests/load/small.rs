//! A small pack that is right, and the same with one thing wrong.

use std::collections::BTreeMap;

use super::api::{Bounds, Code, Diagnostic, Pack, read_pack};

/// Marks the place in an edit at which a problem is awaited; taken out before reading.
const MARK: char = '§';

macro_rules! files {
    ($($name:literal),* $(,)?) => {
        [$((concat!($name, ".yaml"), include_str!(concat!("small/", $name, ".yaml")))),*]
    };
}

/// Names and texts of the small pack: every kind of thing and every kind of rule, all invented.
pub(super) const FILES: [(&str, &str); 29] = files![
    "axes",
    "bars",
    "case-fields",
    "causes",
    "doses",
    "efforts",
    "exercises",
    "factors",
    "faults",
    "groups",
    "layouts",
    "looks",
    "marks",
    "measured",
    "measures",
    "parts",
    "phases",
    "qualities",
    "references",
    "roles",
    "rule-tests",
    "rules",
    "skills",
    "sources",
    "stresses",
    "tables",
    "words",
    "zones",
    "zz-spare",
];

/// The small pack with texts replaced; each `from` must stand exactly once in all of it.
pub(super) fn edited(edits: &[(&str, &str)]) -> Vec<(String, String)> {
    let mut files: Vec<(String, String)> = FILES
        .iter()
        .map(|(name, text)| ((*name).into(), (*text).into()))
        .collect();
    for (from, to) in edits {
        let times: usize = files
            .iter()
            .map(|(_, text)| text.matches(from).count())
            .sum();
        assert_eq!(times, 1, "`{from}` stands {times} times");
        for (_, text) in &mut files {
            *text = text.replace(from, to);
        }
    }
    files
}

/// Reads files.
pub(super) fn read(files: &[(String, String)]) -> Result<Pack, Vec<Diagnostic>> {
    let texts: Vec<(&str, &str)> = files
        .iter()
        .map(|(name, text)| (name.as_str(), text.as_str()))
        .collect();
    read_pack(&texts, &Bounds::default())
}

/// Takes the marks out of files; where they stood, in order, as `file:line:column`.
pub(super) fn unmarked(files: &mut [(String, String)]) -> Vec<String> {
    let mut places = Vec::new();
    for (name, text) in files {
        for (line, content) in text.lines().enumerate() {
            let mut column = 1;
            for c in content.chars() {
                if c == MARK {
                    places.push(format!("{name}:{}:{column}", line + 1));
                } else {
                    column += 1;
                }
            }
        }
        *text = text.replace(MARK, "");
    }
    places
}

/// What problems are, by place.
pub(super) fn told(found: &[Diagnostic]) -> Vec<String> {
    found
        .iter()
        .map(|problem| format!("{} {}", problem.place, problem.code))
        .collect()
}

/// The small pack with edits has exactly the problems of these codes, at the marks in the edits, in order.
pub(super) fn assert_problems(edits: &[(&str, &str)], codes: &[Code]) -> Vec<Diagnostic> {
    let mut files = edited(edits);
    let places = unmarked(&mut files);
    let found = match read(&files) {
        Ok(_) => Vec::new(),
        Err(found) => found,
    };
    let wanted: Vec<String> = places
        .iter()
        .zip(codes)
        .map(|(place, code)| format!("{place} {code}"))
        .collect();
    let shown: Vec<String> = found.iter().map(ToString::to_string).collect();
    assert_eq!(told(&found), wanted, "{}", shown.join("\n"));
    assert_eq!(places.len(), codes.len(), "as many marks as codes");
    for problem in &found {
        assert!(
            !problem.help.is_empty() && !problem.what.is_empty() && !problem.place.is_unknown(),
            "{problem}"
        );
    }
    found
}

#[test]
fn is_read_and_has_every_kind() {
    let pack = read(&edited(&[])).unwrap_or_else(|found| panic!("{}", told(&found).join("\n")));
    assert_eq!(pack.variations.len(), 3);
    assert_eq!(pack.rules.before.len(), 2);
    let kinds: BTreeMap<&str, &str> = FILES
        .iter()
        .filter_map(|(name, text)| Some((text.lines().nth(1)?, *name)))
        .collect();
    assert!(kinds.len() >= 27, "each file has a kind of its own");
}

#[test]
fn is_the_same_in_any_order_of_files() {
    let mut files = edited(&[]);
    let one = format!("{:?}", read(&files).unwrap());
    files.reverse();
    assert_eq!(format!("{:?}", read(&files).unwrap()), one);
    files.rotate_left(7);
    assert_eq!(format!("{:?}", read(&files).unwrap()), one);

    let mut broken = edited(&[
        ("with: [feet-still]\n", "with: [feet-stil]\n"),
        ("  push:\n", "  Push:\n"),
        ("unset: feet-free", "unset: feet-fre"),
    ]);
    let one = read(&broken).err();
    assert!(one.is_some());
    broken.reverse();
    assert_eq!(read(&broken).err(), one);
    broken.rotate_left(11);
    assert_eq!(read(&broken).err(), one);
}
