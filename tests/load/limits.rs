//! What goes beyond a limit is refused with its place, never cut off.

use super::api::Code::{self, TooDeep, TooLarge, TooManyFiles, TooManyNodes};
use super::api::{Bounds, read_case, read_pack};
use super::small::{FILES, edited, read, told};

fn refused(files: &[(&str, &str)], limits: &Bounds) -> Vec<String> {
    told(&read_pack(files, limits).err().unwrap_or_default())
}

fn one(code: Code, place: &str) -> Vec<String> {
    vec![format!("{place} {code}")]
}

const LONG: (&str, &str) = ("long.yaml", include_str!("limits/long.yaml"));
const DEEP: (&str, &str) = ("deep.yaml", include_str!("limits/deep.yaml"));
const MANY: (&str, &str) = ("many.yaml", include_str!("limits/many.yaml"));

#[test]
fn a_file_may_have_so_many_bytes() {
    let bytes = LONG.1.len();
    assert_eq!(
        refused(&[LONG], &Bounds::default().with_bytes_per_file(bytes)),
        [""; 0]
    );
    assert_eq!(
        refused(&[LONG], &Bounds::default().with_bytes_per_file(bytes - 1)),
        one(TooLarge, "long.yaml:1:1")
    );
}

#[test]
fn files_together_may_have_so_many_bytes() {
    let bytes = LONG.1.len() + MANY.1.len();
    assert_eq!(
        refused(&[LONG, MANY], &Bounds::default().with_bytes_total(bytes)),
        [""; 0]
    );
    assert_eq!(
        refused(
            &[LONG, MANY],
            &Bounds::default().with_bytes_total(bytes - 1)
        ),
        one(TooLarge, "many.yaml:1:1")
    );
}

#[test]
fn there_may_be_so_many_files() {
    assert_eq!(
        refused(&FILES, &Bounds::default().with_files(FILES.len())),
        [""; 0]
    );
    let last = FILES.last().unwrap().0;
    assert_eq!(
        refused(&FILES, &Bounds::default().with_files(FILES.len() - 1)),
        one(TooManyFiles, &format!("{last}:1:1"))
    );
}

#[test]
fn lists_and_maps_may_nest_so_deep() {
    assert_eq!(refused(&[DEEP], &Bounds::default().with_depth(12)), [""; 0]);
    assert_eq!(
        refused(&[DEEP], &Bounds::default().with_depth(11)),
        one(TooDeep, "deep.yaml:6:39")
    );
}

#[test]
fn a_file_may_have_so_many_values() {
    assert_eq!(refused(&[MANY], &Bounds::default().with_nodes(23)), [""; 0]);
    assert_eq!(
        refused(&[MANY], &Bounds::default().with_nodes(22)),
        one(TooManyNodes, "many.yaml:4:36")
    );
}

#[test]
fn a_case_has_the_same_limits() {
    let pack = read(&edited(&[])).unwrap();
    let text = "format: 1\ncase: {phase: base, fields: {limits: [wrist]}}\n";
    assert!(read_case(text, &pack, &Bounds::default()).is_ok());
    let beyond = [
        (
            Bounds::default().with_bytes_per_file(text.len() - 1),
            TooLarge,
        ),
        (Bounds::default().with_depth(3), TooDeep),
        (Bounds::default().with_nodes(9), TooManyNodes),
    ];
    for (limits, code) in beyond {
        let found = read_case(text, &pack, &limits).err().unwrap_or_default();
        let codes: Vec<Code> = found.iter().map(|problem| problem.code).collect();
        assert_eq!(codes, [code]);
    }
}

#[test]
fn exercises_and_groups_stand_only_so_far_from_their_roots() {
    let mut chain = String::new();
    let mut before = String::from("bench-push");
    for step in 1..=41 {
        chain.push_str(&format!(
            "    step-{step}: {{names: {{}}, from: {before}, use: One more.}}\n"
        ));
        before = format!("step-{step}");
    }
    let edit = format!("  variations:\n{chain}");
    let found = read(&edited(&[("  variations:\n", &edit)]))
        .err()
        .unwrap_or_default();
    let place = found
        .first()
        .map(|problem| (problem.code, problem.what.contains("`step-41`")));
    assert_eq!((found.len(), place), (1, Some((TooDeep, true))));

    let mut chain = String::new();
    for step in 1..=13 {
        chain.push_str(&format!(
            "  step-{step}: {{names: {{}}, says: More., what: {{groups: [step-{}]}}}}\n",
            step + 1
        ));
    }
    chain.push_str("  step-14: {names: {}, says: The last., what: {alone: true}}\n");
    let edit = format!("groups:\n{chain}  held:");
    let found = read(&edited(&[("groups:\n  held:", &edit)]))
        .err()
        .unwrap_or_default();
    let place = found
        .first()
        .map(|problem| (problem.code, problem.what.contains("`step-1`")));
    assert_eq!((found.len(), place), (1, Some((TooDeep, true))));
}
