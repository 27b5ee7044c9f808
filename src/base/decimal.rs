//! Exact decimal numbers with up to three digits after the point, so that no float decides anything.

use std::fmt;
use std::str::FromStr;

use serde::de::{self, Deserialize, Deserializer, Visitor};
use serde::ser::{Serialize, Serializer};

/// The name under which decimals announce themselves to the located reader.
pub(crate) const DECIMAL_MARK: &str = "$drillwright::Decimal";

/// A number from 0 to 1 000 000 in whole thousandths, such as a load in kilograms.
///
/// It is written `12`, `2.5` or `0.125`: digits, then at most one point with one to three digits
/// after it; no sign, no exponent, no leading zeros. It is shown without zeros at the end.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Decimal {
    thousandths: i64,
}

impl Decimal {
    /// Nought.
    pub const ZERO: Self = Self { thousandths: 0 };

    /// The largest number: 1 000 000.
    pub const MAX: Self = Self {
        thousandths: 1_000_000_000,
    };

    /// The number with this many thousandths; `None` below 0 and above [`Decimal::MAX`].
    #[must_use]
    pub const fn from_thousandths(thousandths: i64) -> Option<Self> {
        if thousandths < 0 || thousandths > Self::MAX.thousandths {
            None
        } else {
            Some(Self { thousandths })
        }
    }

    /// How many thousandths the number has: 0 to 1 000 000 000.
    #[must_use]
    pub const fn thousandths(self) -> i64 {
        self.thousandths
    }
}

impl FromStr for Decimal {
    type Err = BadDecimal;

    fn from_str(text: &str) -> Result<Self, BadDecimal> {
        let form = BadDecimal { in_range: true };
        if let Some(above) = text.strip_prefix('-') {
            return Err(match above.parse::<Self>() {
                Err(bad) if bad.in_range => form,
                _ if above.starts_with('-') => form,
                _ => BadDecimal { in_range: false },
            });
        }
        let (whole, part) = match text.split_once('.') {
            Some((whole, part)) => (whole, part),
            None => (text, "0"),
        };
        let digits = |s: &str| !s.is_empty() && s.bytes().all(|b| b.is_ascii_digit());
        if !digits(whole) || !digits(part) || part.len() > 3 {
            return Err(form);
        }
        if whole.len() > 1 && whole.starts_with('0') {
            return Err(form);
        }
        let range = BadDecimal { in_range: false };
        let number = |s: &str| s.parse::<i64>().map_err(|_| range.clone());
        let scale = match part.len() {
            1 => 100,
            2 => 10,
            _ => 1,
        };
        number(whole)?
            .checked_mul(1000)
            .and_then(|n| n.checked_add(number(part).ok()? * scale))
            .and_then(Self::from_thousandths)
            .ok_or(range)
    }
}

impl fmt::Display for Decimal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let whole = self.thousandths / 1000;
        let part = self.thousandths % 1000;
        if part == 0 {
            return f.pad(&whole.to_string());
        }
        let text = format!("{whole}.{part:03}");
        f.pad(text.trim_end_matches('0'))
    }
}

/// Why a text is not a [`Decimal`].
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BadDecimal {
    in_range: bool,
}

impl BadDecimal {
    /// Whether the text is a number of the right form that is too large or below 0.
    #[must_use]
    pub const fn is_out_of_range(&self) -> bool {
        !self.in_range
    }
}

impl fmt::Display for BadDecimal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(if self.in_range {
            "a number such as 12, 2.5 or 0.125 is wanted: no sign, and at most three digits after \
             the point"
        } else {
            "the number must be from 0 to 1000000"
        })
    }
}

impl std::error::Error for BadDecimal {}

impl Serialize for Decimal {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        if self.thousandths % 1000 == 0 {
            return serializer.serialize_i64(self.thousandths / 1000);
        }
        // At most ten digits: the nearest float is printed back as these same digits.
        #[allow(clippy::cast_precision_loss)]
        serializer.serialize_f64(self.thousandths as f64 / 1000.0)
    }
}

struct DecimalVisitor;

impl<'de> Visitor<'de> for DecimalVisitor {
    type Value = Decimal;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a number such as 12, 2.5 or 0.125")
    }

    fn visit_str<E: de::Error>(self, text: &str) -> Result<Decimal, E> {
        text.parse().map_err(E::custom)
    }

    fn visit_u64<E: de::Error>(self, number: u64) -> Result<Decimal, E> {
        self.visit_str(&number.to_string())
    }

    fn visit_i64<E: de::Error>(self, number: i64) -> Result<Decimal, E> {
        self.visit_str(&number.to_string())
    }

    fn visit_f64<E: de::Error>(self, number: f64) -> Result<Decimal, E> {
        // The shortest text that gives the same float is what was written, so it is read as text.
        self.visit_str(&number.to_string())
    }

    fn visit_newtype_struct<D: Deserializer<'de>>(self, inner: D) -> Result<Decimal, D::Error> {
        inner.deserialize_any(DecimalVisitor)
    }
}

impl<'de> Deserialize<'de> for Decimal {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_newtype_struct(DECIMAL_MARK, DecimalVisitor)
    }
}

#[cfg(feature = "schema")]
impl schemars::JsonSchema for Decimal {
    fn schema_name() -> std::borrow::Cow<'static, str> {
        "Decimal".into()
    }

    fn json_schema(_: &mut schemars::SchemaGenerator) -> schemars::Schema {
        schemars::json_schema!({
            "description": "A number with at most three digits after the point.",
            "type": "number",
            "minimum": 0,
            "maximum": 1_000_000,
        })
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use rstest::rstest;

    use super::*;

    #[rstest]
    #[case("0", 0, "0")]
    #[case("12", 12_000, "12")]
    #[case("2.5", 2_500, "2.5")]
    #[case("0.125", 125, "0.125")]
    #[case("0.050", 50, "0.05")]
    #[case("100.0", 100_000, "100")]
    #[case("1000000", 1_000_000_000, "1000000")]
    fn reads_and_shows(#[case] text: &str, #[case] thousandths: i64, #[case] shown: &str) {
        let number: Decimal = text.parse().unwrap();
        assert_eq!(number.thousandths(), thousandths);
        assert_eq!(number.to_string(), shown);
        assert_eq!(serde_json::to_string(&number).unwrap(), shown);
        assert_eq!(serde_json::from_str::<Decimal>(text).unwrap(), number);
        assert_eq!(serde_yaml::from_str::<Decimal>(text).unwrap(), number);
        let quoted = format!("\"{text}\"");
        assert_eq!(serde_json::from_str::<Decimal>(&quoted).unwrap(), number);
    }

    #[rstest]
    #[case("", false)]
    #[case(".5", false)]
    #[case("5.", false)]
    #[case("-1", true)]
    #[case("-2.5", true)]
    #[case("--1", false)]
    #[case("-.5", false)]
    #[case("+1", false)]
    #[case("1e3", false)]
    #[case("1_000", false)]
    #[case("01", false)]
    #[case("1.2.3", false)]
    #[case("1.0001", false)]
    #[case("٣", false)]
    #[case("1000000.001", true)]
    #[case("99999999999999999999999", true)]
    #[case("9223372036854775807", true)]
    fn refuses(#[case] text: &str, #[case] out_of_range: bool) {
        let error = text.parse::<Decimal>().unwrap_err();
        assert_eq!(error.is_out_of_range(), out_of_range);
        assert!(!error.to_string().is_empty());
    }

    #[test]
    fn refuses_json_that_is_no_such_number() {
        for text in ["-2", "1e300", "0.0001", "true", "[1]", "null"] {
            assert!(serde_json::from_str::<Decimal>(text).is_err(), "{text}");
        }
    }

    proptest::proptest! {
        #[test]
        fn text_and_json_go_there_and_back(thousandths in 0_i64..=1_000_000_000) {
            let number = Decimal::from_thousandths(thousandths).unwrap();
            proptest::prop_assert_eq!(number.to_string().parse::<Decimal>().unwrap(), number);
            let json = serde_json::to_string(&number).unwrap();
            proptest::prop_assert_eq!(&json, &number.to_string());
            proptest::prop_assert_eq!(serde_json::from_str::<Decimal>(&json).unwrap(), number);
        }

        #[test]
        fn no_text_makes_it_fail_badly(text in ".*") {
            let _ = text.parse::<Decimal>();
        }
    }
}
