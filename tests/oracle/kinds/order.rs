//! `adjacent`, `before`, `position`, `followed`.

use rstest::rstest;

use super::small::{judge, missed, worth};

const BRIDGE: &str = "
  adjacent: {it: {what: {roles: [mend]}, directly: before, which: {roles: [prime]}, yields: last}}";
const BRIDGE_SKILL: &str = "
  adjacent: {it: {what: {roles: [mend]}, directly: before, which: {roles: [prime]}, same-skill: true, yields: last}}";
const AFTER: &str = "
  adjacent: {it: {what: {roles: [prime]}, directly: after, which: {roles: [mend]}, yields: last}}";

#[rstest]
// The next item is prime.
#[case(BRIDGE, "halt-swaling mend, swaling prime | |", 0)]
// Nothing stands after it.
#[case(BRIDGE, "swaling prime, halt-swaling mend | |", 1)]
// Both miss: the first stands before a mend, the second before nothing. Days do not touch.
#[case(BRIDGE, "halt-swaling mend, tied-swaling mend | swaling prime |", 2)]
// Prime, but of another skill.
#[case(BRIDGE, "halt-swaling mend, tarning prime | |", 0)]
#[case(BRIDGE_SKILL, "halt-swaling mend, tarning prime | |", 1)]
// Swaling has the mend before it; tarning has swaling before it.
#[case(AFTER, "halt-swaling mend, swaling prime, tarning prime | |", 1)]
// Nothing stands before it.
#[case(AFTER, "swaling prime | |", 1)]
fn adjacent(#[case] rules: &str, #[case] week: &str, #[case] units: i64) {
    assert_eq!(missed(rules, "", week), units);
}

const FIRST: &str = "
  before: {it: {first: {skills: [swale]}, then: {skills: [tarn]}, yields: last}}";
const FIRST_SKILL: &str = "
  before: {it: {first: {roles: [prime]}, then: {roles: [plain]}, same-skill: true, yields: last}}";
const BOTH_WAYS: &str = "
  before: {it: {first: {skills: [swale]}, then: {roles: [plain]}, yields: last}}";

#[rstest]
#[case(FIRST, "swaling prime, tarning prime | |", 0)]
// Tarning stands before two of the other skill: two pairs.
#[case(FIRST, "tarning prime, swaling prime, halt-swaling mend | |", 2)]
// Two of the one before one of the other, and one in order: tarning-swaling and light-swaling.
#[case(
    FIRST,
    "tarning prime, light-tarning plain, swaling prime | swaling prime, tarning prime |",
    2
)]
// Plain before prime, but they share no skill.
#[case(FIRST_SKILL, "light-tarning plain, swaling prime | |", 0)]
#[case(FIRST_SKILL, "light-tarning plain, tarning prime | |", 1)]
// Both are of both sides, so either order is right.
#[case(BOTH_WAYS, "swaling plain, halt-swaling plain | |", 0)]
// Light tarning is only `then`; swaling is `first`.
#[case(BOTH_WAYS, "light-tarning plain, swaling plain | |", 1)]
fn before(#[case] rules: &str, #[case] week: &str, #[case] units: i64) {
    assert_eq!(missed(rules, "", week), units);
}

const OPENS: &str = "
  position: {it: {what: {skills: [swale]}, where: first, of: session, yields: last}}";
const CLOSES: &str = "
  position: {it: {what: {skills: [swale]}, where: last, of: session, yields: last}}";
const CLOSES_PART: &str = "
  position: {it: {what: {skills: [swale]}, where: last, of: part, yields: last}}";

#[rstest]
// Two of it may stand first together.
#[case(OPENS, "swaling prime, halt-swaling mend, tarning prime | |", 0)]
// The second stands after tarning: one unit, however many stand before it.
#[case(OPENS, "swaling prime, tarning prime, halt-swaling mend | |", 1)]
#[case(OPENS, "tarning prime, swaling prime, halt-swaling mend | |", 2)]
#[case(CLOSES, "tarning prime, swaling prime | |", 0)]
// Mooring in the next part stands after it in the session, not in the part.
#[case(CLOSES, "| tarning prime, swaling prime, mooring side end |", 1)]
#[case(CLOSES_PART, "| tarning prime, swaling prime, mooring side end |", 0)]
#[case(CLOSES_PART, "| swaling prime, tarning prime, mooring side end |", 1)]
fn position(#[case] rules: &str, #[case] week: &str, #[case] units: i64) {
    assert_eq!(missed(rules, "", week), units);
}

const IN_SESSION: &str = "
  followed: {it: {what: {with-any: [tether]}, by: {roles: [mend, prime, plain]}, within: session, yields: last}}";
const IN_WEEK: &str = "
  followed: {it: {what: {with-any: [tether]}, by: {roles: [prime]}, within: week, yields: last}}";
const FRONT: &str = "
  followed: {it: {what: {exercises: [swaling]}, by: {exercises: [halt-swaling]}, freer: false, within: session, yields: last}}";
const HALTS_IN_WEEK: &str = "
  followed: {it: {what: {with-any: [halting]}, by: {roles: [mend, prime, plain]}, within: week, yields: last}}";
const HALTS: &str = "
  followed: {it: {what: {with-any: [halting]}, by: {roles: [mend, prime, plain]}, within: session, yields: last}}";

#[rstest]
#[case(IN_SESSION, "tied-swaling mend, swaling prime | |", 0)]
// What is freer stands before it.
#[case(IN_SESSION, "swaling prime, tied-swaling mend | |", 1)]
// Halting is no subset of tether.
#[case(IN_SESSION, "tied-swaling mend, halt-swaling plain | |", 1)]
// Halting is a strict subset of halting and tether.
#[case(IN_SESSION, "tied-halt-swaling mend, halt-swaling plain | |", 0)]
// Tether is one too, but strong, and it is not followed itself: two units.
#[case(IN_SESSION, "tied-halt-swaling mend, tied-swaling plain | |", 2)]
// No shared skill.
#[case(IN_SESSION, "tied-swaling mend, tarning prime | |", 1)]
// Inside the complex the free component comes later.
#[case(IN_SESSION, "tied-then-free mend | |", 0)]
// The complex has a free component too.
#[case(IN_SESSION, "tied-swaling mend, tied-then-free plain | |", 0)]
// A later day counts, an earlier does not, and the week does not wrap round.
#[case(IN_WEEK, "tied-swaling mend | | swaling prime", 0)]
#[case(IN_WEEK, "swaling prime | | tied-swaling mend", 1)]
// `by` wants a prime: neither the plain one nor what is in the complex will do.
#[case(IN_WEEK, "tied-swaling mend | swaling plain |", 1)]
#[case(IN_WEEK, "tied-then-free mend | |", 1)]
// Not freer, and it need not be.
#[case(FRONT, "swaling prime, halt-swaling mend | |", 0)]
#[case(FRONT, "halt-swaling mend, swaling prime | |", 1)]
// Halting itself is followed by nothing with fewer: the same constraints are no strict subset.
#[case(HALTS, "halt-swaling mend, tied-halt-swaling plain | |", 2)]
// Nor does it follow itself on a later day.
#[case(HALTS_IN_WEEK, "halt-swaling mend | halt-swaling plain |", 2)]
#[case(
    HALTS_IN_WEEK,
    "halt-swaling mend | halt-swaling plain, swaling prime |",
    0
)]
fn followed(#[case] rules: &str, #[case] week: &str, #[case] units: i64) {
    assert_eq!(missed(rules, "", week), units);
}

#[rstest]
// Followed in its session: 2 points. The complex has no prime component. Only in the week: none.
#[case("tied-swaling mend, swaling prime | |", 200)]
#[case("tied-then-free mend | |", 0)]
#[case("tied-swaling mend | swaling prime |", 0)]
#[case(
    "tied-swaling mend, swaling prime | | tied-halt-swaling plain, swaling prime",
    400
)]
fn followed_closer(#[case] week: &str, #[case] points: i64) {
    let rules = "
  followed: {it: {what: {with-any: [tether]}, by: {roles: [prime]}, within: week, closer-by: 2, yields: last}}";
    assert_eq!(worth(rules, "", week), points);
}

#[rstest]
fn a_hard_order_is_hard() {
    let rules = FIRST.replace("last", "never");
    let verdict = judge(&rules, "", "tarning prime, swaling prime | |");
    assert_eq!(verdict.hard_broken, ["it"]);
    assert_eq!(verdict.missed, [0, 0, 0]);
}
