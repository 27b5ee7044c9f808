//! What a track says, in words.

use crate::explain::{NotTaken, PathPoint, Tracked, TrackedEvent, TrackedLook, TrackedMeasure};

use super::phrase::{many, spaced};

/// Thousandths with as many digits behind the point as are not 0, three at the most.
fn thousandths(value: i64) -> String {
    let sign = if value < 0 { "-" } else { "" };
    let (whole, part) = (value.unsigned_abs() / 1000, value.unsigned_abs() % 1000);
    let text = format!("{sign}{whole}.{part:03}");
    let short = text.trim_end_matches('0').trim_end_matches('.');
    short.to_owned()
}

/// Microseconds as seconds with two digits.
pub(crate) fn seconds(micros: i64) -> String {
    let hundredths = (micros.unsigned_abs() + 5_000) / 10_000;
    let sign = if micros < 0 { "-" } else { "" };
    format!("{sign}{}.{:02} s", hundredths / 100, hundredths % 100)
}

/// Micrometres as whole centimetres and tenths.
pub(crate) fn centimetres(micrometres: i64) -> String {
    let tenths = (micrometres.unsigned_abs() + 500) / 1000;
    let sign = if micrometres < 0 && tenths > 0 {
        "-"
    } else {
        ""
    };
    match tenths % 10 {
        0 => format!("{sign}{}", tenths / 10),
        digit => format!("{sign}{}.{digit}", tenths / 10),
    }
}

/// What was read.
pub(crate) fn head(tracked: &Tracked) -> String {
    let last = tracked.path.last().map_or(0, |point| point.micros);
    format!(
        "Track of a {}, {}: {} rows over {}, {} a second",
        spaced(tracked.skill.as_str()),
        tracked.file,
        tracked.rows,
        seconds(last),
        // Tenths are enough for people.
        thousandths((tracked.rate_mhz + 50) / 100 * 100)
    )
}

/// What must be said before anything else.
pub(crate) fn cautions(tracked: &Tracked) -> Vec<String> {
    let mut all: Vec<String> = tracked
        .remarks
        .iter()
        .map(|remark| remark.says.clone())
        .collect();
    for (from, to) in &tracked.gaps {
        all.push(format!(
            "There is a gap from {} to {}; nothing is measured across it that it could change.",
            seconds(*from),
            seconds(*to)
        ));
    }
    let stood = tracked.measures.iter().find_map(|held| held.stood_mm);
    if let Some(mm) = stood {
        all.push(format!(
            "Nobody said where the ground is. Heights take it that the path begins {mm} mm above it, which holds for full-size discs on the ground."
        ));
    }
    all
}

/// How it was made even and smooth.
pub(crate) fn made(tracked: &Tracked) -> Vec<String> {
    let mut all = vec![format!(
        "Low-pass Butterworth filter of the second order, forward and backward (Winter), cutoff {} Hz; gaps up to {} ms filled by straight lines; steps of {} ms. Positive is forward, the way the lifter faces.",
        thousandths(i64::from(tracked.cutoff_tenth_hertz) * 100),
        tracked.gap_ms_at_most,
        // Tenths are enough for people.
        thousandths((1_000_000_000 / tracked.rate_mhz.max(1) + 50) / 100 * 100)
    )];
    if tracked.lost > 0 {
        let rows = i64::try_from(tracked.lost).unwrap_or(i64::MAX);
        all.push(format!(
            "{} without a place.",
            many(rows, "row was", "rows were")
        ));
    }
    all
}

/// A measure with its value.
pub(crate) fn value(held: &TrackedMeasure) -> String {
    let said = if held.said { ", as said" } else { "" };
    format!("{} {}{said}", held.value, held.unit)
}

/// An event with its place.
pub(crate) fn event(held: &TrackedEvent) -> String {
    let speed = held.speed.1 / 10;
    let going = match speed {
        0 => String::from("still"),
        _ if speed > 0 => format!("rising {speed} cm/s"),
        _ => format!("falling {} cm/s", -speed),
    };
    format!("{}: {}, {going}", held.event.name, place(&held.at))
}

/// Where something is against the start, in words.
pub(crate) fn place(at: &PathPoint) -> String {
    let up = match centimetres(at.up.abs()).as_str() {
        "0" => String::new(),
        cm if at.up > 0 => format!("{cm} cm up"),
        cm => format!("{cm} cm down"),
    };
    let aside = match centimetres(at.forward.abs()).as_str() {
        "0" => String::new(),
        cm if at.forward > 0 => format!("{cm} cm in front"),
        cm => format!("{cm} cm behind"),
    };
    match (up.is_empty(), aside.is_empty()) {
        (true, true) => String::from("at the start"),
        (true, false) => format!("{aside} of the start"),
        (false, true) => format!("{up}, on the start's vertical"),
        (false, false) => format!("{up}, {aside}"),
    }
}

/// Whether a look is true, and by what.
pub(crate) fn look(held: &TrackedLook) -> String {
    let asked = match (held.at_least, held.at_most) {
        (Some(least), Some(most)) => format!("from {least} to {most}"),
        (Some(least), None) => format!("{least} or more"),
        (None, Some(most)) => format!("{most} or less"),
        (None, None) => String::from("anything"),
    };
    format!(
        "{}: {}. {}: {} {}; asked for is {asked}.",
        held.look.name,
        if held.is_true { "yes" } else { "no" },
        super::capital(&held.by.name),
        held.value,
        held.unit
    )
}

/// Where a look's range comes from.
pub(crate) fn sources(held: &TrackedLook) -> String {
    let all = held.sources.iter();
    let all: Vec<String> = all.map(|(id, says)| format!("{id}: {says}")).collect();
    all.join("; ")
}

/// Why something is not known.
pub(crate) fn not_taken(why: &NotTaken) -> String {
    let unit = |channel: &str| {
        if channel.ends_with("speed") {
            "mm a second"
        } else {
            "mm"
        }
    };
    match why {
        NotTaken::NeverAbove { channel, than } => format!(
            "`{channel}` is never above {than} {} where it is looked for",
            unit(channel)
        ),
        NotTaken::NeverBelow { channel, than } => format!(
            "`{channel}` is never below {than} {} where it is looked for",
            unit(channel)
        ),
        NotTaken::NoRoom => String::from("what it lies between is in another order"),
        NotTaken::Lacks(event) => format!("“{}” was not found", event.name),
        NotTaken::Gap(from, to) => {
            format!(
                "a gap from {} to {} lies there",
                seconds(*from),
                seconds(*to)
            )
        }
        NotTaken::NoBodyHeight => String::from("say the lifter's height"),
        NotTaken::NoGround => String::from("say where the ground is"),
        NotTaken::OnlySaid => String::from("no track shows it; say it"),
    }
}
