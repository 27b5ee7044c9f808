//! Days of the week.

use std::fmt;
use std::str::FromStr;

use serde::{Deserialize, Serialize};

use super::nearest::nearest;

/// A day of the week.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Weekday {
    /// Day 1.
    Monday,
    /// Day 2.
    Tuesday,
    /// Day 3.
    Wednesday,
    /// Day 4.
    Thursday,
    /// Day 5.
    Friday,
    /// Day 6.
    Saturday,
    /// Day 7.
    Sunday,
}

impl Weekday {
    /// All seven in order.
    pub const ALL: [Self; 7] = [
        Self::Monday,
        Self::Tuesday,
        Self::Wednesday,
        Self::Thursday,
        Self::Friday,
        Self::Saturday,
        Self::Sunday,
    ];

    /// Its number, 1 (Monday) to 7.
    #[must_use]
    pub const fn number(self) -> u8 {
        match self {
            Self::Monday => 1,
            Self::Tuesday => 2,
            Self::Wednesday => 3,
            Self::Thursday => 4,
            Self::Friday => 5,
            Self::Saturday => 6,
            Self::Sunday => 7,
        }
    }

    /// The day with this number, if it is one of 1 to 7.
    #[must_use]
    pub fn numbered(number: u8) -> Option<Self> {
        Self::ALL.into_iter().find(|day| day.number() == number)
    }

    /// Its word in case files and documents, such as `monday`.
    #[must_use]
    pub const fn as_str(self) -> &'static str {
        match self {
            Self::Monday => "monday",
            Self::Tuesday => "tuesday",
            Self::Wednesday => "wednesday",
            Self::Thursday => "thursday",
            Self::Friday => "friday",
            Self::Saturday => "saturday",
            Self::Sunday => "sunday",
        }
    }

    /// Its name, such as `Monday`.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Monday => "Monday",
            Self::Tuesday => "Tuesday",
            Self::Wednesday => "Wednesday",
            Self::Thursday => "Thursday",
            Self::Friday => "Friday",
            Self::Saturday => "Saturday",
            Self::Sunday => "Sunday",
        }
    }
}

/// Shown as its word.
impl fmt::Display for Weekday {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.as_str())
    }
}

/// A word that is no day of the week.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BadWeekday {
    word: String,
}

/// The most characters of a word that are told again.
const LONGEST_TOLD: usize = 40;

impl fmt::Display for BadWeekday {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let word = &self.word;
        match nearest(word, Weekday::ALL.map(Weekday::as_str)) {
            Some(near) => write!(f, "`{word}` is no day of the week; did you mean `{near}`?"),
            None => write!(
                f,
                "`{word}` is no day of the week; write `monday` to `sunday`"
            ),
        }
    }
}

impl std::error::Error for BadWeekday {}

impl FromStr for Weekday {
    type Err = BadWeekday;

    fn from_str(word: &str) -> Result<Self, BadWeekday> {
        let found = Self::ALL.into_iter().find(|day| day.as_str() == word);
        found.ok_or_else(|| BadWeekday {
            word: word.chars().take(LONGEST_TOLD).collect(),
        })
    }
}

/// The words as a pattern, so that maps by day refuse every other key.
#[cfg(feature = "schema")]
impl schemars::JsonSchema for Weekday {
    fn schema_name() -> std::borrow::Cow<'static, str> {
        "Weekday".into()
    }

    fn json_schema(_: &mut schemars::SchemaGenerator) -> schemars::Schema {
        let words = Self::ALL.map(Self::as_str).join("|");
        schemars::json_schema!({
            "description": "A day of the week.",
            "type": "string",
            "pattern": format!("^({words})$"),
        })
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn words_and_numbers_go_both_ways() {
        for (at, day) in (1..=7).zip(Weekday::ALL) {
            assert_eq!((day.number(), Weekday::numbered(at)), (at, Some(day)));
            assert_eq!(day.as_str().parse(), Ok(day));
            assert_eq!(day.name().to_lowercase(), day.to_string());
            let json = serde_json::to_string(&day).unwrap();
            assert_eq!(json, format!("\"{day}\""));
            assert_eq!(serde_json::from_str::<Weekday>(&json).unwrap(), day);
        }
        assert_eq!((Weekday::numbered(0), Weekday::numbered(8)), (None, None));
        assert!(Weekday::Monday < Weekday::Sunday);
    }

    #[test]
    fn a_word_that_is_none_is_told() {
        let told = |word: &str| word.parse::<Weekday>().unwrap_err().to_string();
        assert_eq!(
            told("mondy"),
            "`mondy` is no day of the week; did you mean `monday`?"
        );
        assert_eq!(
            told("8"),
            "`8` is no day of the week; write `monday` to `sunday`"
        );
    }
}
