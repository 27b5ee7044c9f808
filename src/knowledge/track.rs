//! Tracks: rows of time and place, and what they say.

use std::collections::BTreeMap;
use std::io::Read;
use std::sync::Arc;

use crate::base::{Code, Decimal, Diagnostic, Place, SkillId, TrackMeasureId};
use crate::explain::{Tracked, tracked};
use crate::rules::check::declared::dangling;
use crate::rules::check::sections::Sort;
use crate::rules::expect_track::TrackTest;
use crate::track::{Path, Steady, Told, Unit, made_rows, path, read, take};

use super::{CaseBuilder, Error, ErrorKind, KnowledgeBase};

/// What is said of a file of rows: what was attempted, and how its columns are read. Nothing of it is guessed: the unit and
/// the side to which the lifter faces must be said, by this or (the unit) by the head of the file.
#[derive(Clone, Debug)]
#[must_use]
pub struct TrackSetup {
    skill: String,
    columns: [Option<String>; 3],
    unit: Option<String>,
    scale: Option<String>,
    facing: Option<String>,
    up_is: Option<String>,
    time_in: Option<String>,
    ground: Option<String>,
    height: Option<String>,
    measured: Vec<(String, i64)>,
}

impl TrackSetup {
    /// A track of an attempt at this skill.
    pub fn new(skill: &str) -> Self {
        Self {
            skill: skill.to_owned(),
            columns: [None, None, None],
            unit: None,
            scale: None,
            facing: None,
            up_is: None,
            time_in: None,
            ground: None,
            height: None,
            measured: Vec::new(),
        }
    }

    fn column(mut self, at: usize, name: &str) -> Self {
        if let Some(held) = self.columns.get_mut(at) {
            *held = Some(name.to_owned());
        }
        self
    }

    /// The name of the column of times; `time` or `t` where nothing is said.
    pub fn time_column(self, name: &str) -> Self {
        self.column(0, name)
    }

    /// The name of the column of places across the picture; `horizontal` or `x` where nothing is said.
    pub fn across_column(self, name: &str) -> Self {
        self.column(1, name)
    }

    /// The name of the column of heights; `vertical` or `y` where nothing is said.
    pub fn up_column(self, name: &str) -> Self {
        self.column(2, name)
    }

    /// The unit of places: `m`, `cm`, `mm` or `px`.
    pub fn unit(mut self, unit: &str) -> Self {
        self.unit = Some(unit.to_owned());
        self
    }

    /// How large a picture point is, in mm, above 0 to 1,000, such as `"2.25"`.
    pub fn scale(mut self, mm_per_pixel: &str) -> Self {
        self.scale = Some(mm_per_pixel.to_owned());
        self
    }

    /// To which side of the picture the lifter faces, where numbers across grow to the right: `left` or `right`.
    pub fn facing(mut self, side: &str) -> Self {
        self.facing = Some(side.to_owned());
        self
    }

    /// Which way heights grow: `up`, or `down` for picture rows that are counted from the top.
    pub fn up_is(mut self, way: &str) -> Self {
        self.up_is = Some(way.to_owned());
        self
    }

    /// The unit of times: `s` or `ms`; seconds where neither this nor the head of the file says.
    pub fn time_in(mut self, unit: &str) -> Self {
        self.time_in = Some(unit.to_owned());
        self
    }

    /// The number in the column of heights that stands for the ground.
    pub fn ground(mut self, value: &str) -> Self {
        self.ground = Some(value.to_owned());
        self
    }

    /// How tall the lifter is, in cm, 50 to 280.
    pub fn height_cm(mut self, cm: &str) -> Self {
        self.height = Some(cm.to_owned());
        self
    }

    /// A measure that was taken otherwise, in its whole units.
    pub fn measured(mut self, measure: &str, value: i64) -> Self {
        self.measured.push((measure.to_owned(), value));
        self
    }
}

/// A track, read and made even and smooth, for the rules that it is asked of.
#[derive(Clone, Debug)]
pub struct Track {
    name: String,
    told: Told,
    path: Path,
    fingerprint: String,
}

impl KnowledgeBase {
    /// A track from a file of comma-separated values (semicolons or tabs do too), read as a stream; the name only serves to
    /// say where things are. At most 200,000 rows, 64 MiB and 4,096 bytes a line are read; what is beyond is an error, told
    /// as soon as it is met.
    ///
    /// # Errors
    ///
    /// [`ErrorKind::Track`] with every problem of what was said and of the rows, a hundred rows at the most;
    /// [`ErrorKind::Open`] where the rules say nothing of tracks of the skill.
    ///
    /// # Examples
    ///
    /// ```
    /// # #[cfg(feature = "builtin")] {
    /// use drillwright::{KnowledgeBase, TrackSetup};
    ///
    /// // A bar that is pulled 1 m up within a second, 4 cm back and forth, and falls 15 cm.
    /// let mut file = String::from("time,x,y\n");
    /// for n in 0..150_i32 {
    ///     let t = f64::from(n) / 60.0;
    ///     let up = |t: f64| t * t * (3.0 - 2.0 * t);
    ///     let rise = up((t - 0.5).clamp(0.0, 1.0)) - 0.15 * up(((t - 1.6) / 0.3).clamp(0.0, 1.0));
    ///     file += &format!("{t:.4},{:.4},{rise:.4}\n", -0.04 * up((t - 0.5).clamp(0.0, 1.0)));
    /// }
    /// let rules = KnowledgeBase::builtin()?;
    /// let setup = TrackSetup::new("snatch").unit("m").facing("right").height_cm("170");
    /// let track = rules.track_from_reader("made.csv", &setup, file.as_bytes())?;
    /// let tracked = rules.track(&track)?;
    /// let of = |id: &str| tracked.measures.iter().find(|held| held.measure.id.as_str() == id);
    /// let behind = of("bar-receive-displacement").map(|held| held.value);
    /// assert!((-42..=-38).contains(&behind.unwrap_or(0)));
    /// // A case goes on from there.
    /// let case = rules.case().tracked(&tracked).phase("general").field("days", "3").build()?;
    /// assert!(rules.solve(&case)?.into_week().is_some());
    /// # }
    /// # Ok::<(), drillwright::Error>(())
    /// ```
    pub fn track_from_reader(
        &self,
        name: &str,
        setup: &TrackSetup,
        mut from: impl Read,
    ) -> Result<Track, Error> {
        let file: Arc<str> = Arc::from(name);
        let found = |wrong: Vec<Diagnostic>| Error::found(ErrorKind::Track, wrong, Vec::new());
        let told = self.told(&file, setup).map_err(found)?;
        let steady = self.steady(&told.skill)?;
        let rows = read(&file, &mut from, &told).map_err(found)?;
        Ok(Track {
            path: path(&file, &rows, steady).map_err(found)?,
            name: name.to_owned(),
            told,
            fingerprint: self.fingerprint().to_owned(),
        })
    }

    /// What a track says: its events, what was measured between them, the further looks that this decides, and what the
    /// rules remark. What could not be found is told with its reason.
    ///
    /// # Errors
    ///
    /// [`ErrorKind::OtherRules`] for a track that was read for other rules.
    pub fn track(&self, track: &Track) -> Result<Tracked, Error> {
        if track.fingerprint != self.fingerprint() {
            return Err(Error::new(
                ErrorKind::OtherRules,
                "the track was read for other rules; read it again with these",
            ));
        }
        let taken = take(self.pack(), &track.told, &track.path);
        Ok(tracked(
            self.pack(),
            self.glossary(),
            (&track.name, &track.told),
            &track.path,
            &taken,
            self.fingerprint(),
        ))
    }

    /// How tracks of a skill are made smooth.
    fn steady(&self, skill: &SkillId) -> Result<Steady, Error> {
        let pack = self.pack();
        let mut events = pack.track_events.values();
        let is_sought = events.any(|event| event.skills.iter().any(|of| of.value == *skill));
        Steady::of(pack, skill).filter(|_| is_sought).ok_or_else(|| {
            Error::new(
                ErrorKind::Open,
                format!(
                    "the rules say nothing of tracks of `{skill}`: what is sought in them (`track-events`) or how they are made smooth (`track-filters`)"
                ),
            )
        })
    }

    /// What the made track of a test says.
    pub(super) fn track_of_test(&self, test: &TrackTest) -> Result<Tracked, Error> {
        let found = |wrong: Vec<Diagnostic>| Error::found(ErrorKind::Track, wrong, Vec::new());
        let file = &test.skill.place.file;
        let said = test
            .said
            .iter()
            .map(|(id, value)| (id.value.clone(), *value));
        let told = Told {
            skill: test.skill.value.clone(),
            columns: [None, None, None],
            unit: None,
            mm_per_pixel: None,
            faces_left: None,
            grows_down: None,
            in_ms: None,
            ground: None,
            body_mm: test.body_height.as_ref().map(|mm| mm.value),
            measured: said.collect(),
        };
        let steady = self.steady(&told.skill)?;
        self.track(&Track {
            path: path(file, &made_rows(test), steady).map_err(found)?,
            name: file.to_string(),
            told,
            fingerprint: self.fingerprint().to_owned(),
        })
    }

    /// What was said, as the rules have it.
    fn told(&self, file: &Arc<str>, setup: &TrackSetup) -> Result<Told, Vec<Diagnostic>> {
        let pack = self.pack();
        let place = Place::start_of(file);
        let mut said = Said {
            place: &place,
            out: Vec::new(),
        };
        let skill: Option<SkillId> = said.id(Sort::Skill, &setup.skill, &pack.skills);
        let mut measured = BTreeMap::new();
        for (id, value) in &setup.measured {
            let id: Option<TrackMeasureId> = said.id(Sort::TrackMeasure, id, &pack.track_measures);
            if let Some(id) = id
                && measured.insert(id.clone(), *value).is_some()
            {
                said.wrong(
                    Code::DuplicateKey,
                    format!("`{id}` is said twice"),
                    "say it once",
                );
            }
        }
        let units: Vec<&str> = Unit::ALL.iter().map(|(word, _)| *word).collect();
        let unit = said.word("unit", setup.unit.as_deref(), &units);
        let facing = said.word("facing", setup.facing.as_deref(), &["left", "right"]);
        let up_is = said.word("up-is", setup.up_is.as_deref(), &["up", "down"]);
        let time_in = said.word("time-in", setup.time_in.as_deref(), &["s", "ms"]);
        let scale = said.number("scale", setup.scale.as_deref(), (1, 1_000_000));
        let height = said.number("height", setup.height.as_deref(), (50_000, 280_000));
        let ground = setup.ground.as_deref().and_then(|text| {
            let number: Option<f64> = text.trim().parse().ok();
            let number = number.filter(|number| number.is_finite());
            if number.is_none() {
                said.wrong(
                    Code::BadNumber,
                    format!("`ground` is `{text}`, which is no number"),
                    "write a number as it stands in the column of heights",
                );
            }
            number
        });
        if scale.is_some() && unit.is_some_and(|unit| unit != "px") {
            said.wrong(
                Code::Contradiction,
                String::from("`scale` is said, and places are not in picture points"),
                "take `scale` out, or say the unit px",
            );
        }
        match (skill, said.out.is_empty()) {
            (Some(skill), true) => Ok(Told {
                skill,
                columns: setup.columns.clone(),
                unit: unit.and_then(Unit::of),
                // A thousandth of a mm is all that a scale says, so that the division is exact enough for a float.
                mm_per_pixel: scale.map(|thousandths| f64::from(thousandths) / 1000.0),
                faces_left: facing.map(|side| side == "left"),
                grows_down: up_is.map(|way| way == "down"),
                in_ms: time_in.map(|unit| unit == "ms"),
                ground,
                body_mm: height.map(|thousandths| i64::from(thousandths) / 100),
                measured,
            }),
            _ => Err(said.out),
        }
    }
}

/// What was said beside a file, with what is wrong with it.
struct Said<'p> {
    place: &'p Place,
    out: Vec<Diagnostic>,
}

impl Said<'_> {
    fn wrong(&mut self, code: Code, what: String, help: &str) {
        self.out
            .push(Diagnostic::new(code, self.place.clone(), what, help));
    }

    /// The id of something of the rules.
    fn id<I, T>(
        &mut self,
        sort: Sort,
        id: &str,
        items: &crate::rules::pack::Items<I, T>,
    ) -> Option<I>
    where
        I: Ord + Clone + AsRef<str> + std::str::FromStr,
    {
        let held = id.parse::<I>().ok().filter(|id| items.contains_key(id));
        if held.is_none() {
            let known: Vec<&str> = items.keys().map(|id| id.value.as_ref()).collect();
            self.out.push(dangling(sort, id, self.place, &known));
        }
        held
    }

    /// One of some words.
    fn word<'w>(&mut self, key: &str, said: Option<&'w str>, words: &[&str]) -> Option<&'w str> {
        let said = said?;
        if words.contains(&said) {
            return Some(said);
        }
        self.wrong(
            Code::UnknownWord,
            format!("`{key}` is `{said}`"),
            &format!("write one of {}", words.join(", ")),
        );
        None
    }

    /// A number in thousandths, between two.
    fn number(&mut self, key: &str, said: Option<&str>, (least, most): (u32, u32)) -> Option<u32> {
        let said = said?;
        let held: Result<Decimal, _> = said.parse();
        let held = held
            .ok()
            .and_then(|held| u32::try_from(held.thousandths()).ok());
        let held = held.filter(|held| (least..=most).contains(held));
        if held.is_none() {
            let of = |thousandths: u32| Decimal::from_thousandths(i64::from(thousandths));
            let shown = |end: u32| of(end).map_or_else(String::new, |end| end.to_string());
            self.wrong(
                Code::OutOfRange,
                format!("`{key}` is `{said}`"),
                &format!(
                    "write a number from {} to {}, with at most three digits after the point",
                    shown(least),
                    shown(most)
                ),
            );
        }
        held
    }
}

impl CaseBuilder {
    /// What a track measured; further looks follow from it by the rules.
    pub fn tracked(mut self, tracked: &Tracked) -> Self {
        for held in &tracked.measures {
            self = self.measured(held.measure.id.as_str(), held.value);
        }
        self
    }
}
