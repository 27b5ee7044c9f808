//! Colour only on a terminal, and none where `NO_COLOR` asks for none.

use std::ffi::OsStr;
use std::process::Command;

use rstest::rstest;

use super::{binary, coach, kept, root};

/// The very rule that the program follows.
#[path = "../../examples/coach/colour.rs"]
mod rule;

const ESCAPE: char = '\u{1b}';

#[rstest]
#[case(true, None, true)]
#[case(true, Some(""), true)]
#[case(true, Some("1"), false)]
#[case(true, Some("0"), false)]
#[case(false, None, false)]
#[case(false, Some(""), false)]
#[case(false, Some("1"), false)]
fn colour_needs_a_terminal_and_no_objection(
    #[case] terminal: bool,
    #[case] no_color: Option<&str>,
    #[case] wanted: bool,
) {
    assert_eq!(rule::wanted(terminal, no_color.map(OsStr::new)), wanted);
}

#[test]
fn what_is_piped_has_no_escape_codes() {
    let acute = kept("acute-pain");
    for arguments in [
        &[][..],
        &["--reasons", "full"],
        &["week", acute.as_str()],
        &["faults"],
        &["exercises"],
        &[
            "exercises",
            "--fault",
            "saved-backward",
            "--skill",
            "snatch",
        ],
        &["ladder", "no-contact-snatch"],
        &["ladder", "no-contact-snach"],
        &["check", "no-such-folder"],
        &["--as", "json"],
    ] {
        let ran = coach(arguments);
        assert!(!ran.out.contains(ESCAPE), "{arguments:?}");
        assert!(!ran.err.contains(ESCAPE), "{arguments:?}");
    }
}

/// Runs the program on a terminal of its own, made by `script`, which Debian always has.
#[cfg(target_os = "linux")]
fn on_a_terminal(arguments: &str, no_color: Option<&str>) -> String {
    let mut script = Command::new("script");
    script
        .args(["-qec", &format!("'{}' {arguments}", binary().display())])
        .arg("/dev/null")
        .current_dir(root())
        .env_remove("NO_COLOR")
        .stdin(std::process::Stdio::null());
    if let Some(value) = no_color {
        script.env("NO_COLOR", value);
    }
    let output = script.output().expect("`script` of util-linux is needed");
    String::from_utf8(output.stdout).unwrap()
}

#[cfg(target_os = "linux")]
#[rstest]
#[case::answer("", "Training week")]
#[case::error("ladder no-contact-snach", "did you mean")]
fn a_terminal_has_colour_unless_it_is_not_wanted(#[case] arguments: &str, #[case] says: &str) {
    for (no_color, coloured) in [(None, true), (Some(""), true), (Some("1"), false)] {
        let out = on_a_terminal(arguments, no_color);
        assert!(out.contains(says), "{out}");
        assert_eq!(
            out.contains(ESCAPE),
            coloured,
            "NO_COLOR {no_color:?}: {out}"
        );
    }
}
