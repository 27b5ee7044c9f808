//! The path of a track as a drawing (SVG), beside the vertical through its start.
//!
//! Ways to the side are drawn larger than ways up, since they are small; both have their own rulers. Everything is named
//! where it is, so that nothing must be looked up.

use std::fmt::Write as _;

use crate::explain::{PathPoint, Tracked, TrackedEvent};

use super::words::{spaced, tracking};

/// The drawing's size, and the field in which the path stands, in its own units.
const WIDTH: i64 = 860;
const HEIGHT: i64 = 900;
const LEFT: i64 = 90;
const RIGHT: i64 = 470;
const TOP: i64 = 110;
const BOTTOM: i64 = 800;
/// Where labels begin, and how far apart they stand at the least.
const LABELS: i64 = 520;
const APART: i64 = 46;
/// Micrometres in a centimetre.
const CM: i64 = 10_000;

/// From places to the drawing, in hundredths of its unit.
struct Scale {
    /// Forward at the left edge, and how much fits in.
    left: i64,
    wide: i64,
    low: i64,
    high: i64,
}

/// A range around some numbers, widened to whole steps.
fn range(values: impl Iterator<Item = i64> + Clone, step: i64, least: i64) -> (i64, i64) {
    let (low, high) = (values.clone().min().unwrap_or(0), values.max().unwrap_or(0));
    let low = low.min(-least).div_euclid(step) * step;
    let high = (high.max(least) + step - 1).div_euclid(step) * step;
    (low, high)
}

impl Scale {
    fn of(points: &[PathPoint]) -> Self {
        let (left, right) = range(points.iter().map(|point| point.forward), 5 * CM, 10 * CM);
        let (low, high) = range(points.iter().map(|point| point.up), 10 * CM, 0);
        Self {
            left,
            wide: right - left,
            low,
            high: high.max(low + 10 * CM),
        }
    }

    fn x(&self, forward: i64) -> i64 {
        LEFT * 100 + (forward - self.left) * (RIGHT - LEFT) * 100 / self.wide.max(1)
    }

    fn y(&self, up: i64) -> i64 {
        BOTTOM * 100 - (up - self.low) * (BOTTOM - TOP) * 100 / (self.high - self.low).max(1)
    }
}

/// Hundredths as a number.
fn number(hundredths: i64) -> String {
    let sign = if hundredths < 0 { "-" } else { "" };
    let (whole, part) = (
        hundredths.unsigned_abs() / 100,
        hundredths.unsigned_abs() % 100,
    );
    format!("{sign}{whole}.{part:02}")
}

/// A text that may stand in markup.
fn escaped(text: &str) -> String {
    let mut out = String::new();
    for c in text.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            // Other signs of control may not stand in XML at all.
            c if c.is_control() => out.push(' '),
            c => out.push(c),
        }
    }
    out
}

struct Drawing(String);

impl Drawing {
    fn line(&mut self, from: (i64, i64), to: (i64, i64), how: &str) {
        let _never = writeln!(
            self.0,
            r#"<line x1="{}" y1="{}" x2="{}" y2="{}" {how}/>"#,
            number(from.0),
            number(from.1),
            number(to.0),
            number(to.1)
        );
    }

    /// A ring with a number in it.
    fn point(&mut self, at: (i64, i64), number_in_it: usize) {
        let _never = writeln!(
            self.0,
            r##"<circle cx="{}" cy="{}" r="9" fill="white" stroke="#0a4fa3" stroke-width="2"/>"##,
            number(at.0),
            number(at.1)
        );
        let how = r##"font-size="12" font-weight="bold" text-anchor="middle" fill="#0a4fa3""##;
        self.text((at.0, at.1 + 430), how, &number_in_it.to_string());
    }

    fn text(&mut self, at: (i64, i64), how: &str, text: &str) {
        let _never = writeln!(
            self.0,
            r#"<text x="{}" y="{}" {how}>{}</text>"#,
            number(at.0),
            number(at.1),
            escaped(text)
        );
    }
}

/// A text cut so that it fits into so many letters.
fn cut(text: &str, most: usize) -> String {
    if text.chars().count() <= most {
        return text.to_owned();
    }
    let short: String = text.chars().take(most.saturating_sub(1)).collect();
    format!("{short}…")
}

/// Rulers of both ways.
fn rulers(drawing: &mut Drawing, scale: &Scale) {
    let faint = r##"stroke="#dddddd" stroke-width="1""##;
    let mut up = scale.low;
    while up <= scale.high {
        let y = scale.y(up);
        drawing.line((LEFT * 100, y), (RIGHT * 100, y), faint);
        if up.rem_euclid(20 * CM) == 0 {
            let how = r#"font-size="14" text-anchor="end" fill="black""#;
            drawing.text(((LEFT - 8) * 100, y + 500), how, &(up / CM).to_string());
        }
        up += 10 * CM;
    }
    // Not more numbers than have room.
    let step = if scale.wide > 60 * CM {
        20 * CM
    } else {
        10 * CM
    };
    let mut forward = scale.left;
    while forward <= scale.left + scale.wide {
        let x = scale.x(forward);
        drawing.line((x, TOP * 100), (x, BOTTOM * 100), faint);
        if forward.rem_euclid(step) == 0 {
            let how = r#"font-size="14" text-anchor="middle" fill="black""#;
            drawing.text((x, (BOTTOM + 20) * 100), how, &(forward / CM).to_string());
        }
        forward += 5 * CM;
    }
    let how = r#"font-size="14" text-anchor="start" fill="black""#;
    drawing.text((1200, (TOP - 14) * 100), how, "cm above the start");
    let words = [
        (LEFT * 100, "start", "← behind"),
        ((LEFT + RIGHT) * 50, "middle", "cm from the start"),
        (RIGHT * 100, "end", "in front →"),
    ];
    for (x, anchor, says) in words {
        let how = format!(r#"font-size="14" text-anchor="{anchor}" fill="black""#);
        drawing.text((x, (BOTTOM + 42) * 100), &how, says);
    }
}

/// The part of the path that is drawn: from a little before the first event to a little behind the last.
fn drawn(tracked: &Tracked) -> &[PathPoint] {
    const MARGIN: i64 = 300_000;
    let (Some(first), Some(last)) = (tracked.events.first(), tracked.events.last()) else {
        return &tracked.path;
    };
    let (from, to) = (first.at.micros - MARGIN, last.at.micros + MARGIN);
    let start = tracked.path.partition_point(|point| point.micros < from);
    let end = tracked.path.partition_point(|point| point.micros <= to);
    tracked.path.get(start..end).unwrap_or_default()
}

/// An event with its number, by time, and the height of its label.
struct Label<'t> {
    number: usize,
    event: &'t TrackedEvent,
    y: i64,
}

/// Events with the heights of their labels, from the top down, none nearer to another than labels have room.
fn labels<'t>(events: &'t [TrackedEvent], scale: &Scale) -> Vec<Label<'t>> {
    let told = events.iter().filter(|event| !event.only_helps);
    let mut all: Vec<Label<'_>> = told
        .enumerate()
        .map(|(at, event)| Label {
            number: at + 1,
            event,
            y: scale.y(event.at.up),
        })
        .collect();
    all.sort_by_key(|label| (label.y, label.number));
    let mut free = TOP * 100;
    for label in &mut all {
        label.y = label.y.max(free);
        free = label.y + APART * 100;
    }
    // What ran over the bottom moves up again.
    let mut free = BOTTOM * 100;
    for label in all.iter_mut().rev() {
        label.y = label.y.min(free);
        free = label.y - APART * 100;
    }
    all
}

/// The path against the vertical through its start, with its events named beside it: an SVG of 860 by 900. The same track
/// gives the same bytes.
#[must_use]
pub fn tracked_svg(tracked: &Tracked) -> String {
    let points = drawn(tracked);
    let scale = Scale::of(points);
    let mut drawing = Drawing(format!(
        r##"<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH} {HEIGHT}" width="{WIDTH}" height="{HEIGHT}" font-family="sans-serif">
<rect width="{WIDTH}" height="{HEIGHT}" fill="white"/>
"##
    ));
    let title = format!(
        "Path of the {}, seen from the side",
        spaced(tracked.skill.as_str())
    );
    let how = r#"font-size="22" font-weight="bold" fill="black""#;
    drawing.text((1200, 3600), how, &title);
    let ratio = ratio(&scale);
    let how = r##"font-size="14" fill="#444444""##;
    drawing.text(
        (1200, 6000),
        how,
        &format!(
            "{}; the lifter faces right; ways to the side are drawn {ratio} times as large as ways up",
            cut(&tracked.file, 30)
        ),
    );
    rulers(&mut drawing, &scale);
    let x = scale.x(0);
    drawing.line(
        (x, TOP * 100),
        (x, BOTTOM * 100),
        r#"stroke="black" stroke-width="1.5" stroke-dasharray="7 5""#,
    );
    let way: Vec<String> = points
        .iter()
        .map(|point| {
            format!(
                "{},{}",
                number(scale.x(point.forward)),
                number(scale.y(point.up))
            )
        })
        .collect();
    let _never = writeln!(
        drawing.0,
        r##"<polyline points="{}" fill="none" stroke="#0a4fa3" stroke-width="3" stroke-linejoin="round"/>"##,
        way.join(" ")
    );
    let all = labels(&tracked.events, &scale);
    for Label { event, y, .. } in &all {
        let to = ((LABELS - 6) * 100, y - 500);
        let how = r##"stroke="#888888" stroke-width="1""##;
        drawing.line((scale.x(event.at.forward), scale.y(event.at.up)), to, how);
    }
    for Label { number, event, y } in &all {
        drawing.point((scale.x(event.at.forward), scale.y(event.at.up)), *number);
        let how = r#"font-size="15" font-weight="bold" fill="black""#;
        let name = format!("{number}  {}", cut(&event.event.name, 36));
        drawing.text((LABELS * 100, *y), how, &name);
        let says = format!(
            "{}, {}",
            tracking::place(&event.at),
            tracking::seconds(event.at.micros)
        );
        let how = r#"font-size="14" fill="black""#;
        drawing.text(((LABELS + 18) * 100, y + 1800), how, &says);
    }
    let how = r#"font-size="14" fill="black""#;
    drawing.text(
        (1200, (HEIGHT - 22) * 100),
        how,
        "Dashed: the vertical through the start. Ask a qualified coach what to change; pain is for a clinician.",
    );
    drawing.0.push_str("</svg>\n");
    drawing.0
}

/// How much larger ways to the side are drawn, with one digit behind the point.
fn ratio(scale: &Scale) -> String {
    let tenths =
        (RIGHT - LEFT) * (scale.high - scale.low) * 10 / ((BOTTOM - TOP) * scale.wide).max(1);
    match tenths % 10 {
        0 => (tenths / 10).to_string(),
        digit => format!("{}.{digit}", tenths / 10),
    }
}
