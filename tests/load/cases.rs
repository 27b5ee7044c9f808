//! Cases: what they fill in, and what is refused.

use rstest::rstest;

use super::api::Code::{
    self, Anchor, BadNumber, BadValue, Contradiction, DanglingId, DuplicateId, DuplicateKey,
    MissingKey, Null, OutOfRange, UnknownFormat, UnknownKey, UnknownWord, WrongType,
};
use super::api::{Bounds, Case, Diagnostic, Value, read_case};
use super::small::{edited, read, told};

/// A case that says all that a case can say.
pub(super) const FULL: &str = r#"format: 1
case:
  lifter: lifter A, invented
  today: 2026-03-01
  phase: base
  layout: two-days
  faults:
    - {fault: bar-away, grade: much}
    - {fault: bar-low, skill: push, grade: some, seen: 3, of: 10, from-percent: 92}
  observed: [head-down]
  measured: {speed: 210}
  ruled-out: [early]
  sure-of: [{cause: late}, {cause: weak, skill: push}]
  bests: {best-pull: 100, best-push: {weight: 72.5, on: 2026-02-01}}
  gym:
    bar: short-bar
    collars: false
    pairs: [{weight: 2.5, pairs: 1}, {weight: 20, pairs: 4}]
  new: [two-pulls]
  disliked: [bench-push]
  tried: [{exercise: full-pull, came: worse}, {exercise: bench-push, came: better}]
  did-last-week: [two-pulls]
  training-days:
    monday: {length: 45}
    friday: {}
  fields:
    sleep: bad
    days: 2
    limits: [wrist]
    meet: 2026-03-29
  by-skill:
    pull: {level: trained}
"#;

fn case(text: &str) -> Result<Case, Vec<Diagnostic>> {
    let pack = read(&edited(&[])).unwrap_or_else(|found| panic!("{}", told(&found).join("\n")));
    read_case(text, &pack, &Bounds::default())
}

/// Values by field, as text.
fn fields(case: &Case) -> Vec<String> {
    let shown = |value: &Value| match value {
        Value::Word(word) => word.to_string(),
        Value::Words(words) => format!(
            "{:?}",
            words.iter().map(ToString::to_string).collect::<Vec<_>>()
        ),
        Value::Number(number) => number.to_string(),
        Value::Date(day) => format!("day {day}"),
    };
    case.fields
        .iter()
        .map(|(id, value)| format!("{id}: {}", shown(value)))
        .collect()
}

fn texts<T: ToString>(all: impl IntoIterator<Item = T>) -> Vec<String> {
    all.into_iter().map(|one| one.to_string()).collect()
}

#[test]
fn a_full_case_is_read() {
    let case = case(FULL).unwrap_or_else(|found| panic!("{}", told(&found).join("\n")));
    assert_eq!(case.lifter, "lifter A, invented");
    assert_eq!(case.today, Some(20_513));
    assert_eq!(
        (
            case.phase.as_str(),
            case.layout.as_ref().map(|id| id.as_str())
        ),
        ("base", Some("two-days"))
    );
    let seen: Vec<String> = case
        .faults
        .iter()
        .map(|seen| {
            format!(
                "{} {} {} {} {:?} {:?} {:?}",
                seen.fault,
                seen.skill,
                seen.grade,
                seen.severity,
                seen.times,
                seen.from_percent,
                texts(&seen.also)
            )
        })
        .collect();
    // That it starts so late makes a look true, of this fault alone.
    assert_eq!(
        seen,
        [
            "bar-away pull much 3 None None []",
            r#"bar-low push some 2 Some((3, 10)) Some(92) ["light-is-well"]"#
        ]
    );
    // One was listed, the other follows from what was measured.
    assert_eq!(texts(&case.observed), ["bar-fast", "head-down"]);
    assert_eq!(texts(case.measured.values()), ["210"]);
    assert_eq!(texts(&case.ruled_out), ["early"]);
    // The only skill with a stated fault that it can be behind, and the one that is named.
    assert_eq!(
        texts(
            case.sure_of
                .iter()
                .map(|(of, cause)| format!("{of} {cause}"))
        ),
        ["pull late", "push weak"]
    );
    assert_eq!(texts(case.bests.values()), ["100", "72.5"]);
    let days: Vec<String> = case
        .best_days
        .iter()
        .map(|(id, day)| format!("{id} {day}"))
        .collect();
    assert_eq!(days, ["best-push 20485"]);
    assert_eq!((case.bar.as_str(), case.collars), ("short-bar", false));
    let pieces: Vec<String> = case
        .pieces
        .iter()
        .map(|piece| format!("{} {} {:?}", piece.weight, piece.full_diameter, piece.pairs))
        .collect();
    assert_eq!(pieces, ["20 true Some(4)", "2.5 false Some(1)"]);
    assert_eq!(texts(&case.new), ["two-pulls"]);
    assert_eq!(texts(&case.disliked), ["bench-push"]);
    let tried: Vec<String> = case
        .tried
        .iter()
        .map(|(id, came)| format!("{id} {}", came.as_str()))
        .collect();
    assert_eq!(tried, ["bench-push better", "full-pull worse"]);
    assert_eq!(texts(&case.did_last_week), ["two-pulls"]);
    assert_eq!(
        fields(&case),
        [
            "days: 2",
            "length: 60",
            "level: beginner",
            "limits: [\"wrist\"]",
            "meet: day 20541",
            "sleep: bad"
        ]
    );
    assert_eq!(texts(&case.stated), ["days", "limits", "meet", "sleep"]);
    let days: Vec<String> = case
        .days
        .iter()
        .map(|(day, said)| format!("{day} {:?}", texts(said.values())))
        .collect();
    assert_eq!(days, ["monday [\"45\"]", "friday []"]);
    let by_skill: Vec<String> = case
        .by_skill
        .keys()
        .map(|(skill, field)| format!("{skill} {field}"))
        .collect();
    assert_eq!(by_skill, ["pull level"]);
}

#[test]
fn a_short_case_is_filled_in() {
    let case = case("format: 1\ncase: {phase: peak}\n")
        .unwrap_or_else(|found| panic!("{}", told(&found).join("\n")));
    assert_eq!(
        (case.today, case.layout.is_none(), case.faults.len()),
        (None, true, 0)
    );
    // The first bar by id, with collars, and any number of every disc.
    assert_eq!((case.bar.as_str(), case.collars), ("long-bar", true));
    let pieces: Vec<String> = case
        .pieces
        .iter()
        .map(|piece| format!("{} {:?}", piece.weight, piece.pairs))
        .collect();
    assert_eq!(pieces, ["20 None", "10 None", "2.5 None"]);
    assert_eq!(
        fields(&case),
        ["days: 3", "length: 60", "level: beginner", "limits: []"]
    );
    assert!(case.stated.is_empty() && case.observed.is_empty());
}

#[test]
fn a_single_phase_needs_no_saying() {
    let files = edited(&[
        (", then: [peak]", ""),
        (
            "  peak: {names: {en: [peak]}, weeks: {from: 1, to: 2}, because: Then., source: {habit: common}}\n",
            "",
        ),
    ]);
    let pack = read(&files).unwrap_or_else(|found| panic!("{}", told(&found).join("\n")));
    let case = read_case(
        "format: 1\ncase: {lifter: lifter A}\n",
        &pack,
        &Bounds::default(),
    )
    .unwrap();
    assert_eq!(case.phase.as_str(), "base");
}

#[rstest]
#[case::format(&[("format: 1", "format: §2")], &[UnknownFormat])]
#[case::no_case(&[("case:\n", "§patient:\n"), ("format: 1", "§format: 1")], &[MissingKey, UnknownKey])]
#[case::misspelt_case(&[("case:\n", "§casse:\n")], &[UnknownKey])]
#[case::more_than_a_case(&[("case:\n", "§marks: {}\ncase:\n")], &[UnknownKey])]
#[case::no_such_day(&[("today: 2026-03-01", "today: §2026-02-29")], &[BadValue])]
#[case::no_phase(&[("case:\n", "§case:\n"), ("  phase: base\n", "")], &[MissingKey])]
#[case::dangling_phase(&[("phase: base", "phase: §bse")], &[DanglingId])]
#[case::dangling_layout(&[("layout: two-days", "layout: §two-day")], &[DanglingId])]
#[case::dangling_fault(&[("{fault: bar-away,", "{fault: §bar-awy,")], &[DanglingId])]
#[case::grade_of_another_fault(&[("skill: push, grade: some", "skill: push, grade: §much")], &[DanglingId])]
#[case::skill_of_another_fault(&[("{fault: bar-away,", "{fault: bar-away, skill: §push,")], &[Contradiction])]
#[case::no_such_skill(&[("skill: push, grade", "skill: §psh, grade")], &[DanglingId])]
#[case::no_skill_where_there_are_two(&[("{fault: bar-low, skill: push,", "{fault: §bar-low,")], &[MissingKey])]
#[case::fault_twice(&[("    - {fault: bar-low", "    - {fault: §bar-away, grade: some}\n    - {fault: bar-low")], &[DuplicateId])]
#[case::seen_more_than_watched(&[("seen: 3, of: 10", "seen: §11, of: 10")], &[OutOfRange])]
#[case::seen_in_none(&[("seen: 3, of: 10", "seen: §0, of: 10")], &[OutOfRange])]
#[case::seen_of_none(&[("seen: 3, of: 10", "seen: 3, of: §0")], &[OutOfRange])]
#[case::seen_beyond_all(&[("seen: 3, of: 10", "seen: 3, of: §70000")], &[OutOfRange])]
#[case::seen_of_how_many(&[("seen: 3, of: 10", "seen: §3")], &[MissingKey])]
#[case::of_and_not_seen(&[("seen: 3, of: 10", "of: §10")], &[MissingKey])]
#[case::seen_misspelt(&[("seen: 3, of: 10", "§sen: 3, of: 10"), ("best-pull: 100", "best-pull: §0")], &[UnknownKey, OutOfRange])]
#[case::starts_at_nothing(&[("from-percent: 92", "from-percent: §0")], &[OutOfRange])]
#[case::starts_beyond_all(&[("from-percent: 92", "from-percent: §121")], &[OutOfRange])]
#[case::dangling_observation(&[("[head-down]", "[§hed-down]")], &[DanglingId])]
#[case::dangling_measure(&[("{speed: 210}", "{§sped: 210}")], &[DanglingId])]
#[case::dangling_cause(&[("ruled-out: [early]", "ruled-out: [§earl]")], &[DanglingId])]
#[case::dangling_sure(&[("{cause: late}", "{cause: §lat}")], &[DanglingId])]
#[case::sure_and_ruled_out(&[("ruled-out: [early]", "ruled-out: [late]"), ("{cause: late}", "{cause: §late}")], &[Contradiction])]
#[case::sure_twice(&[("{cause: late}", "{cause: late}, {cause: §late, skill: pull}")], &[DuplicateId])]
#[case::sure_of_which_skill(&[("{cause: weak, skill: push}", "{cause: §weak}")], &[MissingKey])]
#[case::sure_of_another_skill(&[("{cause: late}", "{cause: late, skill: §push}")], &[Contradiction])]
#[case::sure_of_no_skill(&[("{cause: weak, skill: push}", "{cause: weak, skill: §psh}")], &[DanglingId])]
#[case::sure_of_what_nothing_has(&[("{cause: late}", "{cause: §early}"), ("ruled-out: [early]", "ruled-out: []")], &[Contradiction])]
#[case::sure_skill_misspelt(&[("{cause: weak, skill: push}", "{cause: weak, §skil: push}"), ("best-pull: 100", "best-pull: §0")], &[UnknownKey, OutOfRange])]
#[case::dangling_best(&[("best-push: {weight", "§best-psh: {weight")], &[DanglingId])]
#[case::dated_best_of_nothing(&[("weight: 72.5", "weight: §0")], &[OutOfRange])]
#[case::dated_best_in_words(&[("weight: 72.5", "weight: §much")], &[BadNumber])]
#[case::dated_best_of_no_load(&[("{weight: 72.5, on", "§{on")], &[MissingKey])]
#[case::dated_best_misspelt(&[("weight: 72.5, on:", "weight: 72.5, §onn:")], &[UnknownKey])]
#[case::best_in_a_list(&[("best-pull: 100", "best-pull: §[100]")], &[WrongType])]
#[case::best_on_no_day(&[("on: 2026-02-01", "on: §2026-02-30")], &[BadValue])]
#[case::best_after_today(&[("on: 2026-02-01", "on: §2026-03-02")], &[Contradiction])]
#[case::best_today(&[("on: 2026-02-01", "on: 2026-03-01"), ("phase: base", "phase: §bse")], &[DanglingId])]
#[case::best_on_a_day_and_no_today(&[("  today: 2026-03-01\n", ""), ("on: 2026-02-01", "on: §2026-02-01")], &[MissingKey])]
#[case::best_on_a_day_and_today_misspelt(&[("  today: 2026-03-01\n", "  §tody: 2026-03-01\n"), ("best-pull: 100", "best-pull: §0")], &[UnknownKey, OutOfRange])]
#[case::best_of_nothing(&[("best-pull: 100", "best-pull: §0")], &[OutOfRange])]
#[case::absurd_best(&[("best-pull: 100", "best-pull: §1000.5")], &[OutOfRange])]
#[case::best_below_nothing(&[("best-pull: 100", "best-pull: §-5")], &[OutOfRange])]
#[case::best_beyond_all(&[("best-pull: 100", "best-pull: §99999999999999999999")], &[OutOfRange])]
#[case::dangling_bar(&[("bar: short-bar", "bar: §shot-bar")], &[DanglingId])]
#[case::no_such_disc(&[("{weight: 2.5, pairs: 1}", "§{weight: 5, pairs: 1}")], &[DanglingId])]
#[case::disc_twice(&[("{weight: 20, pairs: 4}", "{weight: 20, pairs: 4}, §{weight: 20, pairs: 1}")], &[DuplicateId])]
#[case::bar_twice(&[("bar: short-bar", "bar: short-bar\n    other-bars: [§short-bar]")], &[DuplicateId])]
#[case::other_bar_twice(&[("bar: short-bar", "bar: short-bar\n    other-bars: [long-bar, §long-bar]")], &[DuplicateId])]
#[case::no_such_other_bar(&[("bar: short-bar", "bar: short-bar\n    other-bars: [§log-bar]")], &[DanglingId])]
#[case::no_pair(&[("{weight: 20, pairs: 4}", "§{weight: 20, pairs: 0}")], &[OutOfRange])]
#[case::dangling_new(&[("new: [two-pulls]", "new: [§two-puls]")], &[DanglingId])]
#[case::dangling_disliked(&[("  disliked: [bench-push]", "  disliked: [§bench]")], &[DanglingId])]
#[case::dangling_tried(&[("exercise: full-pull", "exercise: §full-pul")], &[DanglingId])]
#[case::tried_twice(&[("{exercise: bench-push, came", "{exercise: §full-pull, came")], &[DuplicateId])]
#[case::tried_and_nothing_came(&[("{exercise: full-pull, came: worse}", "§{exercise: full-pull}")], &[MissingKey])]
#[case::tried_and_something_else_came(&[("came: worse", "came: §bad")], &[UnknownWord])]
#[case::dangling_of_the_week_before(&[("did-last-week: [two-pulls]", "did-last-week: [§two-puls]")], &[DanglingId])]
#[case::dangling_field(&[("    sleep: bad", "    §slep: bad")], &[DanglingId])]
#[case::no_such_value(&[("sleep: bad", "sleep: §worse")], &[DanglingId])]
#[case::number_out_of_range(&[("days: 2", "days: §7")], &[OutOfRange])]
#[case::number_beyond_all(&[("days: 2", "days: §99999999999999999999")], &[OutOfRange])]
#[case::pairs_beyond_all(&[("{weight: 20, pairs: 4}", "{weight: 20, pairs: §300}")], &[OutOfRange])]
#[case::number_in_words(&[("days: 2", "days: §two")], &[BadNumber])]
#[case::number_with_nought(&[("days: 2", "days: §02")], &[BadNumber])]
#[case::list_for_a_word(&[("sleep: bad", "sleep: §[bad]")], &[WrongType])]
#[case::word_for_a_list(&[("limits: [wrist]", "limits: §wrist")], &[WrongType])]
#[case::no_such_value_in_a_list(&[("limits: [wrist]", "limits: §[wrist, ankle]")], &[DanglingId])]
#[case::value_twice(&[("limits: [wrist]", "limits: §[wrist, wrist]")], &[DuplicateId])]
#[case::no_date(&[("meet: 2026-03-29", "meet: §tomorrow")], &[BadValue])]
#[case::not_by_skill(&[("pull: {level: trained}", "pull: {level: trained, §days: 2}")], &[Contradiction])]
#[case::no_such_weekday(&[("    monday: {", "    §mondy: {")], &[UnknownWord])]
#[case::weekday_twice(&[("    friday: {}", "    §monday: {}")], &[DuplicateKey])]
#[case::weekdays_not_rising(&[("    friday: {}", "    friday: {}\n    §tuesday: {}"), ("    days: 2\n", ""), ("  layout: two-days\n", "")], &[OutOfRange])]
#[case::a_weekday_that_is_no_map(&[("    friday: {}", "    friday: §[]")], &[WrongType])]
#[case::weekdays_in_a_list(&[("  training-days:\n    monday: {length: 45}\n    friday: {}", "  training-days: §[monday, friday]")], &[WrongType])]
#[case::not_by_day(&[("monday: {length: 45}", "monday: {length: 45, §sleep: bad}")], &[Contradiction])]
#[case::no_such_field_of_a_day(&[("monday: {length: 45}", "monday: {§lenth: 45}")], &[DanglingId])]
#[case::a_day_out_of_range(&[("monday: {length: 45}", "monday: {length: §15}")], &[OutOfRange])]
#[case::other_days_than_said(&[("days: 2", "days: §3")], &[Contradiction])]
#[case::too_few_days(&[("    monday: {length: 45}\n    friday: {}", "    §friday: {}"), ("    days: 2\n", ""), ("  layout: two-days\n", "")], &[OutOfRange])]
#[case::other_days_than_the_layout(&[("    friday: {}", "    friday: {}\n    sunday: {}"), ("    days: 2\n", ""), ("layout: two-days", "layout: §two-days")], &[Contradiction])]
#[case::a_bad_weekday_counts_no_days(&[("    friday: {}", "    §fridey: {}"), ("days: 2", "days: 3")], &[UnknownWord])]
#[case::dangling_skill(&[("pull: {level: trained}", "§pul: {level: trained}")], &[DanglingId])]
#[case::unknown_key(&[("  lifter: lifter A, invented", "  §lifted: lifter A, invented")], &[UnknownKey])]
#[case::several(&[("phase: base", "phase: §bse"), ("days: 2", "days: §7"), ("best-pull: 100", "best-pull: §0")], &[DanglingId, OutOfRange, OutOfRange])]
#[case::one_of_each_sort(&[("phase: base", "phase: §bse"), ("{fault: bar-away, grade: much}", "{fault: §bar-awy, grade: much}"), ("[head-down]", "[§hed-down]"), ("best-pull: 100", "best-pull: §abc"), ("{weight: 20, pairs: 4}", "§{weight: 20, pairs: 40}"), ("days: 2", "days: §9"), ("today: 2026-03-01", "today: §2026-02-30")], &[BadValue, DanglingId, DanglingId, DanglingId, BadNumber, OutOfRange, OutOfRange])]
#[case::unknown_key_and_others(&[("  lifter: lifter A, invented", "  §lifted: lifter A, invented"), ("phase: base", "phase: §bse"), ("layout: two-days", "layout: §two-day"), ("sleep: bad", "sleep: §worse"), ("    pull: {level: trained}", "    §pul: {level: trained}")], &[UnknownKey, DanglingId, DanglingId, DanglingId, DanglingId])]
#[case::a_key_twice_and_others(&[("days: 2", "days: 2\n    §days: 3"), ("phase: base", "phase: §bse"), ("best-pull: 100", "best-pull: §0")], &[DanglingId, OutOfRange, DuplicateKey])]
#[case::nothing_and_others(&[("layout: two-days", "§layout: ~"), ("sleep: bad", "sleep: §worse"), ("limits: [wrist]", "limits: §&a [wrist]")], &[Null, DanglingId, Anchor])]
#[case::no_phase_and_others(&[("case:\n", "§case:\n"), ("  phase: base\n", ""), ("best-pull: 100", "best-pull: §abc")], &[MissingKey, BadNumber])]
#[case::misspelt_phase_key(&[("phase: base", "§phse: base"), ("best-pull: 100", "best-pull: §0")], &[UnknownKey, OutOfRange])]
#[case::misspelt_skill_key(&[("skill: push, grade: some", "§skil: push, grade: §soe")], &[UnknownKey, DanglingId])]
#[case::no_skill_and_others(&[("{fault: bar-low, skill: push,", "{fault: §bar-low,"), ("best-pull: 100", "best-pull: §abc")], &[MissingKey, BadNumber])]
#[case::number_beyond_all_and_others(&[("days: 2", "days: §two"), ("{weight: 20, pairs: 4}", "{weight: 20, pairs: §300}"), ("best-pull: 100", "best-pull: §abc")], &[BadNumber, OutOfRange, BadNumber])]
#[case::gym_not_read(&[("bar: short-bar", "bar: §[short-bar]"), ("best-pull: 100", "best-pull: 5")], &[WrongType])]
#[case::gym_misspelt(&[("  gym:\n", "  §gm:\n"), ("best-pull: 100", "best-pull: 5")], &[UnknownKey])]
#[case::collars_not_read(&[("collars: false", "collars: §maybe"), ("best-pull: 100", "best-pull: §0")], &[OutOfRange, WrongType])]
#[case::no_format(&[("format: 1", "§# none"), ("days: 2", "days: §9")], &[MissingKey, OutOfRange])]
fn a_broken_case_is_told(#[case] edits: &[(&str, &str)], #[case] codes: &[Code]) {
    let mut text = FULL.to_owned();
    for (from, to) in edits {
        assert_eq!(text.matches(from).count(), 1, "`{from}`");
        text = text.replace(from, to);
    }
    let mut files = [(String::from("case.yaml"), text)];
    let places = super::small::unmarked(&mut files);
    let found = case(&files[0].1).err().unwrap_or_default();
    let wanted: Vec<String> = places
        .iter()
        .zip(codes)
        .map(|(place, code)| format!("{place} {code}"))
        .collect();
    let shown: Vec<String> = found.iter().map(ToString::to_string).collect();
    assert_eq!(told(&found), wanted, "{}", shown.join("\n"));
    assert_eq!(places.len(), codes.len());
    assert!(found.iter().all(|problem| !problem.help.is_empty()));
}

#[test]
fn a_missing_phase_lists_the_phases() {
    let found = case("format: 1\ncase: {lifter: lifter A}\n")
        .err()
        .unwrap_or_default();
    assert_eq!(
        found.first().map(|problem| problem.help.as_str()),
        Some("say which: one of `base`, `peak`; in a case file as `phase:`")
    );
}

#[test]
fn a_case_is_not_sure_of_opposites() {
    let pack = read(&edited(&[(
        "weak: {percent: 30,",
        "early: {percent: 10}\n      weak: {percent: 20,",
    )]))
    .unwrap();
    let text = "format: 1\ncase:\n  phase: base\n  sure-of: [{cause: late}, {cause: early}]\n";
    let found = read_case(text, &pack, &Bounds::default()).err();
    assert_eq!(
        told(&found.unwrap_or_default()),
        ["case.yaml:4:36 contradiction"]
    );
}
