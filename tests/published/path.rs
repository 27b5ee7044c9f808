//! Feet, place and height of the bar.

use rstest::rstest;

use super::probe::observed;

/// Schilling and others 2002, J Strength Cond Res 16:551-555 (A): displacement of the feet beyond
/// 2.5 cm either way counts as moved. In millimetres, forward positive.
#[rstest]
#[case(25, "feet-not-moved")]
#[case(26, "feet-moved-forward")]
#[case(90, "feet-moved-forward")]
#[case(0, "feet-not-moved")]
#[case(-25, "feet-not-moved")]
#[case(-26, "feet-moved-backward")]
#[case(-90, "feet-moved-backward")]
fn feet_have_moved_beyond_two_and_a_half_centimetres(
    #[case] millimetres: i64,
    #[case] class: &str,
) {
    assert_eq!(observed("foot-displacement", millimetres), [class]);
}

/// Stone and others 1998, NSCA J 20(4):30-38 (A): in most elite lifts of one meet the bar was caught
/// 10 to 20 cm behind its start. That is not far behind; beyond it is.
#[rstest]
#[case(-100, false)]
#[case(-200, false)]
#[case(-201, true)]
fn the_bar_is_caught_up_to_twenty_centimetres_behind(#[case] millimetres: i64, #[case] far: bool) {
    let seen = observed("bar-receive-displacement", millimetres);
    assert_eq!(seen.contains(&String::from("bar-caught-far-behind")), far);
}

/// Ai 2018, ISBS Proceedings 36 (A): the highest point of the bar in percent of body height, men
/// to 94 kg: snatch 71.8, clean 59.5, jerk 94.3. A whole percent below is below the mean.
#[rstest]
#[case("snatch-peak-height", 71, false)]
#[case("snatch-peak-height", 72, true)]
#[case("clean-peak-height", 59, false)]
#[case("clean-peak-height", 60, true)]
#[case("jerk-peak-height", 94, false)]
#[case("jerk-peak-height", 95, true)]
fn the_bar_is_as_high_as_the_mean(
    #[case] measure: &str,
    #[case] percent: i64,
    #[case] reaches: bool,
) {
    assert_eq!(observed(measure, percent).len(), usize::from(reaches));
}

/// Points that a cause of the snatch asks for, with what was seen beside a fault.
fn demand(fault: &str, grade: &str, cause: &str, look: &[&str]) -> i64 {
    let base = super::probe::base_with("snatch");
    let mut case = base
        .case()
        .phase("general")
        .fault_of(fault, "snatch", grade)
        .field("days", "2");
    for seen in look {
        case = case.observed(seen);
    }
    let answer = base.solve(&case.build().unwrap()).unwrap();
    let plan = answer.into_week().unwrap();
    plan.focus
        .iter()
        .find(|worked| worked.cause.as_str() == cause)
        .map_or(0, |worked| worked.demand)
}

/// Whitehead 2014, J Strength Cond Res 28:587-591 (A), Stone and others 1998 (A): a small jump back
/// that repeats itself is no fault and preferred by many. Seen on good lifts too, it is worked on no more.
#[rstest]
#[case("saved-backward", "two-steps")]
#[case("jumps-backward", "clear")]
fn a_small_jump_back_every_time_is_no_fault(#[case] fault: &str, #[case] grade: &str) {
    assert!(demand(fault, grade, "weight-behind", &[]) > 0);
    assert_eq!(
        demand(
            fault,
            grade,
            "weight-behind",
            &["small-jump-back-every-time"]
        ),
        0
    );
}

/// Schilling and others 2002 (A): feet within 2.5 cm have not moved, so nothing is jumped back.
#[test]
fn feet_that_have_not_moved_rule_the_jump_out() {
    assert!(
        demand(
            "jumps-backward",
            "clear",
            "weight-behind",
            &["feet-moved-backward"]
        ) > 0
    );
    assert_eq!(
        demand(
            "jumps-backward",
            "clear",
            "weight-behind",
            &["feet-not-moved"]
        ),
        0
    );
}
