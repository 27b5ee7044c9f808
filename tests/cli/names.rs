//! `coach name`: what is printed of a written name, and what of one that means nothing.

use rstest::rstest;

use super::coach;

#[test]
fn a_listed_exercise_is_told_with_each_piece() {
    let ran = coach(&["name", "pwr", "sn,", "w/", "no", "contact"]);
    assert_eq!((ran.code, ran.err.as_str()), (0, ""));
    for line in [
        "No-contact power snatch",
        "  listed as no-contact-power-snatch",
        "  pwr sn                      exercise: power snatch",
        "  w                           says nothing",
        "  no contact                  constraint: no contact",
    ] {
        assert!(
            ran.out.lines().any(|held| held == line),
            "{line}: {}",
            ran.out
        );
    }
}

/// Numbers by hand from `rules/axes.yaml`: departures 3 + 1, loads 95 × 94 percent, effects of both.
#[test]
fn what_is_not_listed_has_numbers_and_says_that_they_are_estimates() {
    let ran = coach(&["name", "hang snatch no hook"]);
    assert_eq!(ran.code, 0);
    for part in [
        "Hang snatch, no hook grip\n",
        "not listed; nearest is “hang snatch”",
        "constraints: hang above the knee and no hook grip",
        "stages left: knee passage, second pull, turnover, receive, fixation, recovery",
        "departure: 4",
        "load: at most 89 % of best snatch, an estimate",
        "against slow under the bar",
    ] {
        assert!(ran.out.contains(part), "{part}: {}", ran.out);
    }
}

#[rstest]
#[case("snatch pull from blocks", &["may be", "snatch pull from high blocks", "write which of them"])]
#[case("hang", &["does not say which exercise", "hang clean", "hang snatch"])]
#[case("hang snatch from high blocks", &["“hang above the knee” and “from high blocks” exclude each other", "take one of the two out"])]
#[case("snatch with a pause in the dip", &["“pause in the dip” has no place in “snatch”"])]
#[case("snatch clean", &["several exercises", "write `+`"])]
#[case("snatch 3x2", &["the count `3x2`", "sets are no part of a name"])]
fn what_means_nothing_is_told_with_what_to_do(#[case] text: &str, #[case] says: &[&str]) {
    let ran = coach(&["name", text]);
    assert_eq!((ran.code, ran.out.as_str()), (2, ""));
    for part in says {
        assert!(ran.err.contains(part), "{part}: {}", ran.err);
    }
}

#[test]
fn names_are_read_with_the_rules_of_a_folder() {
    let ran = coach(&["name", "pc", "--rules", "rules"]);
    assert_eq!(ran.code, 0);
    assert!(ran.out.starts_with("Power clean\n"), "{}", ran.out);
}

#[test]
fn a_week_takes_names_of_exercises() {
    let common = [
        "week",
        "--phase",
        "general",
        "--days",
        "2",
        "--minutes",
        "45",
        "--as",
        "json",
    ];
    let by_name = coach(&[&common[..], &["--disliked", "back sq", "--new", "pwr sn"]].concat());
    let by_id = coach(
        &[
            &common[..],
            &["--disliked", "back-squat", "--new", "power-snatch"],
        ]
        .concat(),
    );
    assert_eq!(by_name.code, 0, "{}", by_name.out);
    assert_eq!(by_name.out, by_id.out);
}
