//! From rows to a path of even steps, filtered: rate, gaps, places and speeds in whole numbers.

use std::sync::Arc;

use crate::base::{Code, Diagnostic, Place, SkillId};
use crate::rules::pack::Pack;
use crate::rules::vocab::{Channel, is_of};

use super::Rows;
use super::number::{float, nearest, whole};
use super::rows::seconds;
use super::smooth::low_pass;

/// More steps than rows can be: a track with such holes is none.
const MOST_STEPS: i64 = 400_000;

/// How tracks of a skill are made smooth: the strictest of each number.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Steady {
    pub(crate) cutoff_dhz: u16,
    pub(crate) gap_ms: u16,
    pub(crate) rows_a_second: u16,
}

impl Steady {
    /// What the rules say; none where they say nothing.
    pub(crate) fn of(pack: &Pack, skill: &SkillId) -> Option<Self> {
        let all = pack.track_filters.values();
        let of_skill = all.filter(|filter| is_of(&filter.skills, skill));
        let each = of_skill.map(|filter| Self {
            cutoff_dhz: filter.cutoff_tenth_hertz.value,
            gap_ms: filter.gap_ms_at_most.value,
            rows_a_second: filter.rows_a_second_at_least.value,
        });
        each.reduce(|one, other| Self {
            cutoff_dhz: one.cutoff_dhz.min(other.cutoff_dhz),
            gap_ms: one.gap_ms.min(other.gap_ms),
            rows_a_second: one.rows_a_second.max(other.rows_a_second),
        })
    }
}

/// A path of even steps, in micrometres, microseconds and micrometres a second.
#[derive(Debug, Clone)]
pub(crate) struct Path {
    pub(crate) micros: Vec<i64>,
    pub(crate) horizontal: Vec<i64>,
    pub(crate) vertical: Vec<i64>,
    pub(crate) horizontal_speed: Vec<i64>,
    pub(crate) vertical_speed: Vec<i64>,
    /// Steps that lie in a gap that is too long to be filled, or so near that the filter draws on it.
    pub(crate) in_gap: Vec<Option<(i64, i64)>>,
    /// Gaps that are too long to be filled.
    pub(crate) gaps: Vec<(i64, i64)>,
    /// Rows a second, in thousandths.
    pub(crate) rate_mhz: i64,
    pub(crate) steady: Steady,
    pub(crate) ground: Option<i64>,
    pub(crate) rows: usize,
    /// Rows that say no place.
    pub(crate) lost: usize,
}

impl Path {
    /// A channel.
    pub(crate) fn of(&self, channel: Channel) -> &[i64] {
        match channel {
            Channel::Horizontal => &self.horizontal,
            Channel::Vertical => &self.vertical,
            Channel::HorizontalSpeed => &self.horizontal_speed,
            Channel::VerticalSpeed => &self.vertical_speed,
        }
    }

    /// A channel at a step; every step that is asked of is one of the path.
    pub(crate) fn at(&self, channel: Channel, step: usize) -> i64 {
        self.of(channel).get(step).copied().unwrap_or_default()
    }

    /// When a step is.
    pub(crate) fn time(&self, step: usize) -> i64 {
        self.micros.get(step).copied().unwrap_or_default()
    }
}

/// Makes rows even and smooth. Times count from the first row with a place.
///
/// # Errors
///
/// A track that is too slow, or whose holes are larger than it.
pub(crate) fn path(name: &Arc<str>, rows: &Rows, steady: Steady) -> Result<Path, Vec<Diagnostic>> {
    let wrong = |code: Code, what: String, help: &str| {
        Err(vec![Diagnostic::new(
            code,
            Place::start_of(name),
            what,
            help,
        )])
    };
    let known = rows.rows.iter();
    let known: Vec<(i64, i64, i64)> = known
        .filter_map(|row| row.at.map(|(forward, up)| (row.micros, forward, up)))
        .collect();
    let (Some(first), Some(last)) = (known.first(), known.last()) else {
        return wrong(
            Code::EmptyFile,
            String::from("no row says where it was"),
            "write places into the rows",
        );
    };
    let (from, span) = (first.0, last.0 - first.0);
    let pairs = rows.rows.iter().zip(rows.rows.iter().skip(1));
    let between: Vec<i64> = pairs.map(|(one, next)| next.micros - one.micros).collect();
    let mut sorted = between.clone();
    sorted.sort_unstable();
    let usual = sorted.get(sorted.len() / 2).copied().unwrap_or(1).max(1);
    // Each interval is so many usual ones: times that were rounded then add up to no step too many.
    let known_at = |micros: i64| (first.0..=last.0).contains(&micros);
    let inside = rows.rows.iter().zip(&between);
    let inside = inside.filter(|(row, _)| known_at(row.micros) && row.micros < last.0);
    let count = inside
        .map(|(_, step)| nearest(i128::from(*step), i128::from(usual)).max(1))
        .fold(0_i64, i64::saturating_add);
    if !(1..=MOST_STEPS).contains(&count) {
        return wrong(
            Code::OutOfRange,
            format!(
                "the rows reach over {} s, and are mostly {} s apart",
                seconds(span),
                seconds(usual)
            ),
            "cut the track to one attempt, and look at the unit of time",
        );
    }
    let rate_mhz = nearest(i128::from(count) * 1_000_000_000, i128::from(span));
    if rate_mhz < i64::from(steady.rows_a_second) * 1000
        || rate_mhz < i64::from(steady.cutoff_dhz) * 250
    {
        return wrong(
            Code::OutOfRange,
            format!(
                "there are {} rows a second, and {} are needed",
                shown(rate_mhz),
                steady.rows_a_second.max(steady.cutoff_dhz.div_ceil(4))
            ),
            "film with more pictures a second, and look at the unit of time",
        );
    }
    let longest = i64::from(steady.gap_ms) * 1000;
    let mut gaps = Vec::new();
    for (one, next) in known.iter().zip(known.iter().skip(1)) {
        // One step is no gap, however slow the track.
        if next.0 - one.0 > longest.max(usual + usual / 2) {
            gaps.push((one.0 - from, next.0 - from));
        }
    }
    // The filter draws on half a period of its cutoff to either side.
    let near = 5_000_000 / i64::from(steady.cutoff_dhz.max(1));
    let (mut micros, mut in_gap) = (Vec::new(), Vec::new());
    let (mut horizontal, mut vertical) = (Vec::new(), Vec::new());
    let (mut at, mut gap_at) = (0, 0);
    for step in 0..=count {
        let time = nearest(i128::from(step) * i128::from(span), i128::from(count));
        while known.get(at + 1).is_some_and(|next| next.0 - from <= time) {
            at += 1;
        }
        let one = known.get(at).unwrap_or(first);
        let next = known.get(at + 1).unwrap_or(one);
        let (past, whole_way) = (float(time + from - one.0), float(next.0 - one.0));
        let share = if whole_way > 0.0 {
            past / whole_way
        } else {
            0.0
        };
        horizontal.push(float(one.1) + float(next.1 - one.1) * share);
        vertical.push(float(one.2) + float(next.2 - one.2) * share);
        while gaps.get(gap_at).is_some_and(|gap| gap.1 + near < time) {
            gap_at += 1;
        }
        let here = gaps.get(gap_at).copied();
        in_gap.push(here.filter(|gap| time > gap.0 - near && time < gap.1 + near));
        micros.push(time);
    }
    let filtered = |values: &[f64]| -> Vec<i64> {
        let smooth = low_pass(values, rate_mhz, steady.cutoff_dhz);
        // Filtered places stay near those that were read, which are small.
        smooth.into_iter().map(|v| whole(v).unwrap_or(0)).collect()
    };
    let (horizontal, vertical) = (filtered(&horizontal), filtered(&vertical));
    Ok(Path {
        horizontal_speed: speeds(&micros, &horizontal),
        vertical_speed: speeds(&micros, &vertical),
        micros,
        horizontal,
        vertical,
        in_gap,
        gaps,
        rate_mhz,
        steady,
        ground: rows.ground,
        rows: rows.rows.len(),
        lost: rows.rows.len() - known.len(),
    })
}

/// Thousandths as a number with at most one digit behind the point.
fn shown(thousandths: i64) -> String {
    let tenths = nearest(i128::from(thousandths), 100);
    match tenths % 10 {
        0 => (tenths / 10).to_string(),
        digit => format!("{}.{digit}", tenths / 10),
    }
}

/// Speeds from one step before to one step behind; at the ends from the end itself.
fn speeds(micros: &[i64], places: &[i64]) -> Vec<i64> {
    let of = |step: usize| {
        let (before, behind) = (step.saturating_sub(1), (step + 1).min(micros.len() - 1));
        let way = |all: &[i64]| {
            let at = |step: usize| all.get(step).copied().unwrap_or_default();
            i128::from(at(behind)) - i128::from(at(before))
        };
        nearest(way(places) * 1_000_000, way(micros))
    };
    (0..micros.len()).map(of).collect()
}
