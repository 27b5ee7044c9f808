//! A week as a model for other solvers.

use rstest::rstest;

use super::{coach, kept};

/// Decided at once, and nothing gives way in it.
const HOLDS: &str = "last-week-3-days";

/// So much is sore that rules of all three levels give way; decided at once, too.
const GIVES: [&str; 7] = [
    "week",
    "--phase",
    "general",
    "--days",
    "2",
    "--field",
    "limits=back,wrist",
];

#[rstest]
#[case::mps("mps", "* ", "\nROWS\n N OBJ\n", "\nENDATA\n")]
#[case::lp("lp", "\\ ", "\nMaximize\n OBJ:", "\nEnd\n")]
fn is_written_where_nothing_gives_way(
    #[case] form: &str,
    #[case] remark: &str,
    #[case] says: &str,
    #[case] ends: &str,
) {
    let ran = coach(&["week", &kept(HOLDS), "--as", form]);
    assert_eq!((ran.code, ran.err.as_str()), (0, ""));
    assert!(
        ran.out.starts_with(remark) && ran.out.ends_with(ends),
        "{}",
        ran.out
    );
    assert!(ran.out.contains(says), "{}", ran.out);
    assert!(ran.out.contains("sought: the most worth\n"), "{}", ran.out);
    assert!(
        ran.out
            .contains("units missed at most: 0 last, 0 middle, 0 first"),
        "{}",
        ran.out
    );
    // The same is written where it is asked for by name.
    let named = coach(&["week", &kept(HOLDS), "--as", form, "--seek", "worth"]);
    assert_eq!(ran.out, named.out);
}

/// The demo week of the command without arguments can be written, too.
#[test]
fn is_written_of_the_demo() {
    let ran = coach(&["--as", "mps"]);
    assert_eq!((ran.code, ran.err.as_str()), (0, ""));
    assert!(ran.out.contains(" x_d1_"), "{}", ran.out);
}

#[test]
fn what_it_seeks_is_said_where_something_gives_way() {
    let ran = coach(&[&GIVES[..], &["--as", "mps"]].concat());
    assert_eq!((ran.code, ran.out.as_str()), (2, ""));
    for seek in ["last", "middle", "first", "worth"] {
        assert!(ran.err.contains(seek), "{}", ran.err);
        let said = coach(&[&GIVES[..], &["--as", "mps", "--seek", seek]].concat());
        assert_eq!((said.code, said.err.as_str()), (0, ""));
        // What the levels before it miss is held at what the week misses.
        let sought = match seek {
            "last" => "fewest units missed that give way last\n* OBJ",
            "middle" => "give way middle\n* units missed at most: 2 last\n",
            "first" => "give way first\n* units missed at most: 2 last, 4 middle\n",
            _ => "most worth\n* units missed at most: 2 last, 4 middle, 1 first\n",
        };
        assert!(said.out.contains(sought), "{}", said.out);
    }
}

/// That nothing satisfies the first of the models is why there is no week.
#[test]
fn is_written_where_there_is_no_week() {
    let ran = coach(&["week", &kept("acute-pain"), "--as", "lp"]);
    assert_eq!((ran.code, ran.err.as_str()), (0, ""));
    assert!(ran.out.contains("\nMinimize\n"), "{}", ran.out);
    assert!(ran.out.contains("give way last"), "{}", ran.out);
}

#[rstest]
#[case::no_week(&["faults", "--as", "mps"], "go with `week`")]
#[case::no_model(&["week", "tests/cases/last-week-3-days.yaml", "--seek", "worth"], "--as mps")]
#[case::no_such(&["week", "tests/cases/last-week-3-days.yaml", "--as", "mps", "--seek", "never"], "possible values")]
#[case::nothing_found(&["week", "tests/cases/last-week-3-days.yaml", "--as", "mps", "--nodes", "1"], "found no week")]
fn is_refused(#[case] arguments: &[&str], #[case] says: &str) {
    let ran = coach(arguments);
    assert_eq!((ran.code, ran.out.as_str()), (2, ""));
    assert!(ran.err.contains(says), "{}", ran.err);
}
