//! Whatever is done to the built-in method, reading it ends with a pack or with problems that help.

use proptest::prelude::*;

use super::api::{Bounds, read_case, read_pack};
use super::builtin;
use super::small::{edited, read};

/// One change to a text.
#[derive(Debug, Clone)]
enum Edit {
    /// Cut so many characters out.
    Cut(usize),
    /// Put this in.
    Put(String),
    /// Take the line from here again.
    Again,
    /// Put a word of elsewhere in place of the word here.
    Swap(usize),
}

fn edit() -> impl Strategy<Value = Edit> {
    prop_oneof![
        (1_usize..40).prop_map(Edit::Cut),
        proptest::sample::select(vec![
            ":",
            " ",
            "\n",
            "  ",
            "- ",
            "[",
            "]",
            "{",
            "}",
            ",",
            "#",
            "\"",
            "'",
            "&a ",
            "*a",
            "!t ",
            "<<: ",
            "~",
            "null",
            "0",
            "-1",
            "99999999999999999999",
            "true",
            "x",
            "é",
            "\t",
            "|",
            ">",
            "---\n",
            "%",
            "@",
            "\u{0}",
        ])
        .prop_map(|text| Edit::Put(text.to_owned())),
        Just(Edit::Again),
        any::<usize>().prop_map(Edit::Swap),
    ]
}

fn boundary(text: &str, near: usize) -> usize {
    let mut at = near % (text.len() + 1);
    while !text.is_char_boundary(at) {
        at -= 1;
    }
    at
}

fn words(text: &str) -> Vec<(usize, &str)> {
    text.split(|c: char| !(c.is_ascii_alphanumeric() || c == '-'))
        .filter(|word| !word.is_empty())
        .map(|word| (word.as_ptr() as usize - text.as_ptr() as usize, word))
        .collect()
}

fn changed(text: &str, at: usize, edit: &Edit) -> String {
    let at = boundary(text, at);
    let (before, after) = text.split_at(at);
    match edit {
        Edit::Cut(count) => format!("{before}{}", after.chars().skip(*count).collect::<String>()),
        Edit::Put(put) => format!("{before}{put}{after}"),
        Edit::Again => format!("{before}\n{}\n{after}", after.lines().next().unwrap_or("")),
        Edit::Swap(other) => {
            let words = words(text);
            let (Some(here), false) = (
                words.iter().find(|(start, _)| *start >= at),
                words.is_empty(),
            ) else {
                return text.to_owned();
            };
            let with = words[other % words.len()].1;
            format!(
                "{}{with}{}",
                &text[..here.0],
                &text[here.0 + here.1.len()..]
            )
        }
    }
}

fn is_pack_or_helps(files: &[(String, String)]) -> Result<(), TestCaseError> {
    let texts: Vec<(&str, &str)> = files
        .iter()
        .map(|(name, text)| (name.as_str(), text.as_str()))
        .collect();
    if let Err(found) = read_pack(&texts, &Bounds::default()) {
        prop_assert!(!found.is_empty());
        prop_assert!(found.windows(2).all(|two| two[0] <= two[1]), "sorted");
        for problem in found {
            prop_assert!(
                problem.place.line >= 1 && problem.place.column >= 1,
                "{problem}"
            );
            prop_assert!(
                !problem.help.is_empty() && !problem.what.is_empty(),
                "{problem}"
            );
            prop_assert!(
                files.iter().any(|(name, _)| **name == *problem.place.file),
                "{problem}"
            );
        }
    }
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 150, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn of_the_builtin_method(file in any::<usize>(), edits in prop::collection::vec((any::<usize>(), edit()), 1..4)) {
        let mut files = builtin::files();
        let which = file % files.len();
        for (at, edit) in &edits {
            files[which].1 = changed(&files[which].1, *at, edit);
        }
        is_pack_or_helps(&files)?;
    }

    #[test]
    fn of_the_small_pack(edits in prop::collection::vec((any::<usize>(), any::<usize>(), edit()), 1..6)) {
        let mut files = edited(&[]);
        for (file, at, edit) in &edits {
            let which = file % files.len();
            files[which].1 = changed(&files[which].1, *at, edit);
        }
        is_pack_or_helps(&files)?;
    }

    #[test]
    fn of_a_case(edits in prop::collection::vec((any::<usize>(), edit()), 1..5)) {
        let pack = read(&edited(&[])).map_err(|_| TestCaseError::fail("the small pack is right"))?;
        let mut text = super::cases::FULL.to_owned();
        for (at, edit) in &edits {
            text = changed(&text, *at, edit);
        }
        if let Err(found) = read_case(&text, &pack, &Bounds::default()) {
            prop_assert!(!found.is_empty());
            for problem in found {
                prop_assert!(problem.place.line >= 1 && !problem.help.is_empty() && !problem.what.is_empty(), "{problem}");
            }
        }
    }
}
