//! Training days that the case names, and rules that look at what each says.

use std::fmt::Write;

use super::random::Random;

/// The field that days may say, and the one that counts them.
pub const FIELDS: &str = "    spells: {from: 1, to: 40, if-missing: 12, by-day: true}\n    evenings: {from: 1, to: 7, if-missing: 2, counts-training-days: true}\n";

const WEEK: [&str; 7] = [
    "monday",
    "tuesday",
    "wednesday",
    "thursday",
    "friday",
    "saturday",
    "sunday",
];

/// Lines of a case that name so many days; most say their own number.
pub fn named(random: &mut Random, days: i64) -> String {
    let mut text = String::new();
    if random.percent(50) {
        writeln!(text, "  training-days:").unwrap();
        let mut last = 0;
        for left in (0..days).rev() {
            last = random.between(last + 1, 7 - left);
            let own = if random.percent(75) {
                format!("spells: {}", random.between(5, 30))
            } else {
                String::new()
            };
            let day = WEEK[usize::try_from(last - 1).unwrap()];
            writeln!(text, "    {day}: {{{own}}}").unwrap();
        }
    }
    text
}

/// Rules about the days, by kind; none for half of all packs.
pub fn rules(random: &mut Random) -> Vec<(&'static str, String)> {
    let mut all = Vec::new();
    if random.percent(50) {
        return all;
    }
    let on = |random: &mut Random| {
        let (end, than) = *random.one(&[("at-least", 10), ("at-most", 18)]);
        let than = than + random.between(-3, 3);
        format!("on: {{case-of-day: {{spells: {{{end}: {than}}}}}}}")
    };
    let yields = |random: &mut Random| *random.one(&["last", "middle", "first"]);
    if random.percent(60) {
        let (end, percent) = *random.one(&[("at-least", 60), ("at-most", 110)]);
        let (on, yields) = (on(random), yields(random));
        all.push((
            "minutes",
            format!(
                "{{{end}: {{field: spells, percent: {percent}}}, {on}, unit: 2, yields: {yields}}}"
            ),
        ));
    }
    if random.percent(40) {
        let (on, yields) = (on(random), yields(random));
        all.push((
            "count",
            format!(
                "{{what: {{everything: true}}, per: session, at-most: 1, {on}, yields: {yields}}}"
            ),
        ));
    }
    if random.percent(40) {
        let on = on(random);
        all.push((
            "trim",
            format!("{{what: {{everything: true}}, {on}, sets-fewer: 1, sets-at-least: 1}}"),
        ));
    }
    if random.percent(40) {
        let on = on(random);
        all.push((
            "timing",
            format!("{{{on}, warm-up-seconds: 400, changeover-seconds: 100}}"),
        ));
    }
    all
}
