//! Made packs, and the quick reading of all their weeks held against the plain one.

use super::best::Session;
use super::make::random::Random;
use super::sized::make;

#[test]
fn are_the_same_for_the_same_seed() {
    for seed in [3, 4, 10] {
        let (one, other) = (make(seed), make(seed));
        assert_eq!((one.files, one.case), (other.files, other.case));
    }
}

#[test]
fn the_tables_say_what_the_plain_reading_says() {
    let mut missed = 0;
    for seed in 0..20 {
        let made = make(seed);
        let oracle = made.oracle();
        let candidates = oracle.all_candidates();
        let sessions = oracle.all_sessions(&candidates, usize::MAX).unwrap();
        if sessions.iter().any(Vec::is_empty) {
            continue;
        }
        let tables = oracle.tables(&candidates, &sessions);
        let mut random = Random::new(seed);
        for _ in 0..400 {
            let week: Vec<usize> = sessions
                .iter()
                .map(|list| {
                    let last = i64::try_from(list.len()).unwrap() - 1;
                    usize::try_from(random.between(0, last)).unwrap()
                })
                .collect();
            let chosen: Vec<&Session<'_>> = week
                .iter()
                .zip(&sessions)
                .map(|(at, list)| &list[*at])
                .collect();
            let plain = oracle.verdict(&chosen);
            let (units, worth, tie) = tables.verdict(&sessions, &week);
            assert_eq!(
                units[0] > 0,
                !plain.hard_broken.is_empty(),
                "{}",
                made.shown()
            );
            assert_eq!(
                ([units[1], units[2], units[3]], worth, tie),
                (plain.missed, plain.worth, plain.tie),
                "{}",
                made.shown()
            );
            missed += units[1] + units[2] + units[3];
        }
    }
    assert!(missed > 1_000, "they miss something: {missed}");
}
