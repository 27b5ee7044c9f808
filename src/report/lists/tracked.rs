//! What a track says.

use serde::{Deserialize, Serialize};

use crate::explain::{NotTaken, PathPoint, Tracked, TrackedEvent};
use crate::report::json::{FORMAT, document, this_format};
use crate::report::page::{Page, Tone};
use crate::report::words::{finding, tracking};

document! {
    /// What a track of one attempt says.
    TrackedDocument {
        /// The format, 1.
        #[serde(deserialize_with = "this_format")]
        #[cfg_attr(feature = "schema", schemars(range(min = 1, max = 1)))]
        format: u32,
        /// The fingerprint of the rules.
        rules: String,
        /// The name of the file.
        file: String,
        /// What was attempted.
        skill: String,
        /// How many rows were read.
        rows: usize,
        /// Rows without a place.
        lost: usize,
        /// Rows a second, in thousandths.
        rate_mhz: i64,
        /// The cutoff of the low-pass filter, in tenths of a hertz.
        cutoff_tenth_hertz: u16,
        /// Gaps up to so many thousandths of a second were filled by straight lines.
        gap_ms_at_most: u16,
        /// Longer gaps: from and to, in microseconds.
        gaps: Vec<[i64; 2]>,
        /// Events, by time.
        events: Vec<TrackedEventDocument>,
        /// Events that were not found.
        not_found: Vec<NotTakenDocument>,
        /// Measures, by id.
        measures: Vec<TrackedMeasureDocument>,
        /// Measures that were not taken.
        not_taken: Vec<NotTakenDocument>,
        /// Further looks that a measured value decides.
        looks: Vec<TrackedLookDocument>,
        /// What the rules remark.
        remarks: Vec<TrackedRemarkDocument>,
        /// What is said of all of it.
        cautions: Vec<String>,
        /// The path, in even steps.
        path: TrackedPathDocument,
    }
}

document! {
    /// A moment of a track.
    TrackedEventDocument {
        /// The event.
        event: String,
        /// Its name.
        name: String,
        /// What it is.
        means: String,
        /// The step of the path, from 0.
        step: usize,
        /// In microseconds from the first row with a place.
        micros: i64,
        /// Forward of the first event, in micrometres.
        forward: i64,
        /// Above the first event, in micrometres.
        up: i64,
        /// Forward, in mm a second.
        forward_speed: i64,
        /// Upward, in mm a second.
        up_speed: i64,
        /// It only serves to find others.
        only_helps: bool,
    }
}

document! {
    /// Something that was measured.
    TrackedMeasureDocument {
        /// The measure.
        measure: String,
        /// Its name.
        name: String,
        /// In its unit.
        value: i64,
        /// The unit in words.
        unit: String,
        /// What is measured.
        means: String,
        /// It was said, and not taken from the track.
        said: bool,
        /// The ground was taken to be so many mm below where the path begins; null where it was said or does not matter.
        stood_mm: Option<i64>,
    }
}

document! {
    /// What is not known.
    NotTakenDocument {
        /// The event or measure.
        of: String,
        /// Its name.
        name: String,
        /// Why: `never-above`, `never-below`, `no-room`, `lacks`, `gap`, `no-body-height`, `no-ground` or `only-said`.
        why: String,
        /// The same in words.
        says: String,
    }
}

document! {
    /// A further look that a measured value decides.
    TrackedLookDocument {
        /// The look.
        look: String,
        /// Its name.
        name: String,
        /// Whether it is true.
        is_true: bool,
        /// The measure that decides it.
        by: String,
        /// Its value.
        value: i64,
        /// True from this value on.
        at_least: Option<i64>,
        /// True up to this value.
        at_most: Option<i64>,
        /// Where the range comes from, and of whom it was measured.
        sources: Vec<TrackedSourceDocument>,
    }
}

document! {
    /// Where something comes from.
    TrackedSourceDocument {
        /// The source.
        source: String,
        /// What it says.
        says: String,
    }
}

document! {
    /// A remark.
    TrackedRemarkDocument {
        /// Which one.
        remark: String,
        /// What is said.
        says: String,
        /// Why.
        because: String,
    }
}

document! {
    /// The path: one number for each step in each list.
    TrackedPathDocument {
        /// In microseconds from the first row with a place.
        micros: Vec<i64>,
        /// Forward of the first event, in micrometres.
        forward: Vec<i64>,
        /// Above the first event, in micrometres.
        up: Vec<i64>,
    }
}

fn why(held: &NotTaken) -> &'static str {
    match held {
        NotTaken::NeverAbove { .. } => "never-above",
        NotTaken::NeverBelow { .. } => "never-below",
        NotTaken::NoRoom => "no-room",
        NotTaken::Lacks(_) => "lacks",
        NotTaken::Gap(..) => "gap",
        NotTaken::NoBodyHeight => "no-body-height",
        NotTaken::NoGround => "no-ground",
        NotTaken::OnlySaid => "only-said",
    }
}

fn not_taken(id: &str, name: &str, held: &NotTaken) -> NotTakenDocument {
    NotTakenDocument {
        of: id.to_owned(),
        name: name.to_owned(),
        why: why(held).to_owned(),
        says: tracking::not_taken(held),
    }
}

fn of_event(held: &TrackedEvent) -> TrackedEventDocument {
    TrackedEventDocument {
        event: held.event.id.to_string(),
        name: held.event.name.clone(),
        means: held.means.clone(),
        step: held.step,
        micros: held.at.micros,
        forward: held.at.forward,
        up: held.at.up,
        forward_speed: held.speed.0,
        up_speed: held.speed.1,
        only_helps: held.only_helps,
    }
}

/// What a track says, as a document.
#[must_use]
pub fn tracked_document(tracked: &Tracked) -> TrackedDocument {
    let path = |of: fn(&PathPoint) -> i64| tracked.path.iter().map(of).collect();
    TrackedDocument {
        format: FORMAT,
        rules: tracked.fingerprint.clone(),
        file: tracked.file.clone(),
        skill: tracked.skill.to_string(),
        rows: tracked.rows,
        lost: tracked.lost,
        rate_mhz: tracked.rate_mhz,
        cutoff_tenth_hertz: tracked.cutoff_tenth_hertz,
        gap_ms_at_most: tracked.gap_ms_at_most,
        gaps: tracked.gaps.iter().map(|(from, to)| [*from, *to]).collect(),
        events: tracked.events.iter().map(of_event).collect(),
        not_found: tracked
            .not_found
            .iter()
            .map(|(event, held)| not_taken(event.id.as_str(), &event.name, held))
            .collect(),
        measures: tracked
            .measures
            .iter()
            .map(|held| TrackedMeasureDocument {
                measure: held.measure.id.to_string(),
                name: held.measure.name.clone(),
                value: held.value,
                unit: held.unit.clone(),
                means: held.means.clone(),
                said: held.said,
                stood_mm: held.stood_mm,
            })
            .collect(),
        not_taken: tracked
            .not_taken
            .iter()
            .map(|(measure, held)| not_taken(measure.id.as_str(), &measure.name, held))
            .collect(),
        looks: tracked
            .looks
            .iter()
            .map(|held| TrackedLookDocument {
                look: held.look.id.to_string(),
                name: held.look.name.clone(),
                is_true: held.is_true,
                by: held.by.id.to_string(),
                value: held.value,
                at_least: held.at_least,
                at_most: held.at_most,
                sources: held
                    .sources
                    .iter()
                    .map(|(source, says)| TrackedSourceDocument {
                        source: source.to_string(),
                        says: says.clone(),
                    })
                    .collect(),
            })
            .collect(),
        remarks: tracked
            .remarks
            .iter()
            .map(|held| TrackedRemarkDocument {
                remark: held.id.to_string(),
                says: held.says.clone(),
                because: held.because.clone(),
            })
            .collect(),
        cautions: tracking::cautions(tracked)
            .into_iter()
            .chain([finding::CAUTION.to_owned()])
            .collect(),
        path: TrackedPathDocument {
            micros: path(|point| point.micros),
            forward: path(|point| point.forward),
            up: path(|point| point.up),
        },
    }
}

/// What a track says, as text in lines of at most 80 columns.
#[must_use]
pub fn tracked_text(tracked: &Tracked, colour: bool) -> String {
    let mut page = Page::new(colour);
    page.say(0, &tracking::head(tracked), Tone::Strong);
    for caution in tracking::cautions(tracked) {
        page.hang(2, "! ", &caution, Tone::Warning);
    }
    if !tracked.measures.is_empty() {
        page.gap();
        page.say(0, "Measured", Tone::Strong);
        for held in &tracked.measures {
            page.pair(
                2,
                &held.measure.name,
                44,
                &tracking::value(held),
                Tone::Plain,
            );
            page.say(4, &held.means, Tone::Faint);
        }
    }
    if !tracked.looks.is_empty() {
        page.gap();
        page.say(0, "What that decides", Tone::Strong);
        for held in &tracked.looks {
            page.say(2, &tracking::look(held), Tone::Plain);
            page.hang(4, "from ", &tracking::sources(held), Tone::Faint);
        }
    }
    if !tracked.events.is_empty() {
        page.gap();
        page.say(0, "When", Tone::Strong);
        for held in tracked.events.iter().filter(|held| !held.only_helps) {
            let mark = format!("{:>7}  ", tracking::seconds(held.at.micros));
            page.hang(2, &mark, &tracking::event(held), Tone::Plain);
        }
    }
    if !tracked.not_found.is_empty() || !tracked.not_taken.is_empty() {
        page.gap();
        page.say(0, "Not known", Tone::Strong);
        let events = tracked.not_found.iter();
        let events = events.map(|(event, held)| (&event.name, held));
        let measures = tracked.not_taken.iter();
        for (name, held) in events.chain(measures.map(|(measure, held)| (&measure.name, held))) {
            let says = format!("{}.", tracking::not_taken(held));
            page.hang(2, &format!("{name}: "), &says, Tone::Plain);
        }
    }
    page.gap();
    page.say(0, "How it was made", Tone::Strong);
    for line in tracking::made(tracked) {
        page.say(2, &line, Tone::Faint);
    }
    page.gap();
    page.hang(0, "! ", finding::CAUTION, Tone::Warning);
    if !tracked.measures.is_empty() {
        page.gap();
        page.say(
            0,
            "For the case file, or under `watched` of watched attempts",
            Tone::Strong,
        );
        for line in tracked_case(tracked).lines().skip(2) {
            let indent = line.len() - line.trim_start().len();
            page.say(indent, line.trim_start(), Tone::Plain);
        }
    }
    page.done()
}

/// What was measured as a case file, without anything else that a case says; looks follow from it by the rules.
#[must_use]
pub fn tracked_case(tracked: &Tracked) -> String {
    let mut text = String::from("format: 1\ncase:\n");
    if tracked.measures.is_empty() {
        text.push_str("  measured: {}\n");
        return text;
    }
    text.push_str("  measured:\n");
    for held in &tracked.measures {
        text.push_str(&format!("    {}: {}\n", held.measure.id, held.value));
    }
    text
}
