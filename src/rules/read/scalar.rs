//! Reading single texts, be they values or keys: numbers, truth values, words and ids.

use std::fmt::Display;
use std::str::FromStr;

use serde::de::value::StrDeserializer;
use serde::de::{self, DeserializeSeed, Deserializer, IntoDeserializer, Visitor};

use super::problem::{Kind, Problem, TooFar};
use super::tree::{Style, shortened};
use crate::base::at::AT_MARK;
use crate::base::decimal::DECIMAL_MARK;
use crate::base::id::ID_MARK;
use crate::base::{Code, Decimal, Place, SkillId};

/// One text of the tree.
#[derive(Clone, Copy)]
pub(super) struct Text<'a> {
    pub(super) text: &'a str,
    pub(super) style: Style,
    pub(super) place: &'a Place,
    /// A number that the type can't hold is read as another that is out of its range: this has
    /// been noted.
    pub(super) beyond: bool,
}

impl Text<'_> {
    /// The text's whole number, if it is written as one and in the range of the type.
    fn integer<N>(self, least: N, most: N, all: bool) -> Result<N, Problem>
    where
        N: FromStr + Display + Copy,
    {
        let wanted = "must be a whole number";
        let found = || shortened(self.text);
        let digits = self.text.strip_prefix('-').unwrap_or(self.text);
        let number = !digits.is_empty() && digits.bytes().all(|b| b.is_ascii_digit());
        if self.style != Style::Plain {
            return Err(Problem::value(
                Code::WrongType,
                format!("{wanted}, not the text \"{}\"", found()),
                "write the number without quotes",
            ));
        }
        if !number {
            return Err(Problem::value(
                Code::BadNumber,
                format!("{wanted}, not `{}`", found()),
                "write digits only, such as 12: no point, no unit, no space",
            ));
        }
        let nought_first = digits.len() > 1 && digits.starts_with('0');
        if nought_first || self.text == "-0" {
            return Err(Problem::value(
                Code::BadNumber,
                format!("{wanted}, and `{}` is not written as one", found()),
                "take out the 0 or the sign in front, which other readers take for something else",
            ));
        }
        if let Ok(number) = self.text.parse() {
            return Ok(number);
        }
        let below = self.text.starts_with('-') && !least.to_string().starts_with('0');
        let stand_in = if below { least } else { most };
        if self.beyond {
            return Ok(stand_in);
        }
        let found = found();
        let must = if all {
            format!("{wanted}, and `{found}` is beyond all numbers that are read")
        } else {
            format!("{wanted} from {least} to {most}, and `{found}` is not in that range")
        };
        Err(Problem::new(Kind::Beyond(Box::new(TooFar {
            must,
            help: format!("write a number from {least} to {most}"),
            text: found,
            stand_in: stand_in.to_string(),
        }))))
    }

    fn truth(self) -> Result<bool, Problem> {
        match (self.text, self.style) {
            ("true", Style::Plain) => Ok(true),
            ("false", Style::Plain) => Ok(false),
            _ => Err(Problem::value(
                Code::WrongType,
                format!("must be true or false, not `{}`", shortened(self.text)),
                "write `true` or `false`, in small letters and without quotes",
            )),
        }
    }

    fn id<'de, V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Problem> {
        visitor.visit_str(self.text).map_err(|problem: Problem| {
            let Kind::Custom(what) = problem.kind else {
                return problem;
            };
            Problem::new(Kind::Refused {
                code: Code::BadId,
                what,
                help: id_help(self.text),
            })
        })
    }

    fn decimal<'de, V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Problem> {
        let Err(bad) = self.text.parse::<Decimal>() else {
            return visitor.visit_str(self.text);
        };
        let found = shortened(self.text);
        let must = format!("is `{found}`, but {bad}");
        if !bad.is_out_of_range() {
            let help = "write a number such as 12, 2.5 or 0.125";
            return Err(Problem::value(Code::BadNumber, must, help));
        }
        if self.beyond {
            return visitor.visit_str(&Decimal::MAX.to_string());
        }
        Err(Problem::new(Kind::Beyond(Box::new(TooFar {
            must,
            help: format!("write a number from 0 to {}", Decimal::MAX),
            text: found,
            stand_in: Decimal::MAX.to_string(),
        }))))
    }
}

/// The id that a text may stand for, if changing letters and gaps makes one.
pub fn id_meant(text: &str) -> Option<String> {
    let mut id = String::new();
    for c in text.trim().chars().take(100) {
        if c.is_ascii_alphanumeric() {
            id.push(c.to_ascii_lowercase());
        } else if !id.is_empty() && !id.ends_with('-') {
            id.push('-');
        }
    }
    let id = id.trim_end_matches('-');
    (id != text && SkillId::new(id).is_ok()).then(|| id.to_owned())
}

fn id_help(text: &str) -> String {
    if !text.is_empty() && text.bytes().all(|b| b.is_ascii_digit()) {
        return String::from(
            "begin it with a letter, such as `hang-start`; what is compared with a number takes \
             other keys, such as `at-least` and `at-most`",
        );
    }
    id_meant(text).map_or_else(
        || {
            String::from(
                "write a word of small letters, digits and hyphens that says what is meant, such \
                 as `hang-start`",
            )
        },
        |id| format!("write it as `{id}`"),
    )
}

macro_rules! integers {
    ($($method:ident $visit:ident $type:ty, $all:literal;)+) => {$(
        fn $method<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Problem> {
            visitor.$visit(self.integer(<$type>::MIN, <$type>::MAX, $all)?)
        }
    )+};
}

impl<'de> Deserializer<'de> for Text<'_> {
    type Error = Problem;

    integers! {
        deserialize_i8 visit_i8 i8, false;
        deserialize_i16 visit_i16 i16, false;
        deserialize_i32 visit_i32 i32, false;
        deserialize_i64 visit_i64 i64, true;
        deserialize_u8 visit_u8 u8, false;
        deserialize_u16 visit_u16 u16, false;
        deserialize_u32 visit_u32 u32, false;
        deserialize_u64 visit_u64 u64, true;
    }

    fn deserialize_bool<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Problem> {
        visitor.visit_bool(self.truth()?)
    }

    fn deserialize_any<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Problem> {
        visitor.visit_str(self.text)
    }

    fn deserialize_f32<V: Visitor<'de>>(self, _: V) -> Result<V::Value, Problem> {
        Err(no_floats())
    }

    fn deserialize_f64<V: Visitor<'de>>(self, _: V) -> Result<V::Value, Problem> {
        Err(no_floats())
    }

    fn deserialize_option<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Problem> {
        visitor.visit_some(self)
    }

    fn deserialize_newtype_struct<V: Visitor<'de>>(
        self,
        name: &'static str,
        visitor: V,
    ) -> Result<V::Value, Problem> {
        match name {
            ID_MARK => self.id(visitor),
            DECIMAL_MARK => self.decimal(visitor),
            AT_MARK => visitor.visit_seq(PlaceThen::new(self.place, self)),
            _ => visitor.visit_newtype_struct(self),
        }
    }

    fn deserialize_enum<V: Visitor<'de>>(
        self,
        _: &'static str,
        _: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Problem> {
        let word: StrDeserializer<'_, Problem> = self.text.into_deserializer();
        visitor.visit_enum(word)
    }

    serde::forward_to_deserialize_any! {
        i128 u128 char str string bytes byte_buf unit unit_struct seq tuple
        tuple_struct map struct identifier ignored_any
    }
}

fn no_floats() -> Problem {
    Problem::value(
        Code::BadNumber,
        "is asked for as a float, and floats are not read",
        "read it as a `Decimal`; this is a mistake in the program, not in the file",
    )
}

/// The four parts of a value with its place: file, line, column and the value.
pub(super) struct PlaceThen<'a, D> {
    place: &'a Place,
    value: Option<D>,
    next: u8,
}

impl<'a, D> PlaceThen<'a, D> {
    pub(super) const fn new(place: &'a Place, value: D) -> Self {
        Self {
            place,
            value: Some(value),
            next: 0,
        }
    }
}

impl<'de, D: Deserializer<'de, Error = Problem>> de::SeqAccess<'de> for PlaceThen<'_, D> {
    type Error = Problem;

    fn next_element_seed<S: DeserializeSeed<'de>>(
        &mut self,
        seed: S,
    ) -> Result<Option<S::Value>, Problem> {
        self.next = self.next.saturating_add(1);
        match self.next {
            1 => {
                let file: StrDeserializer<'_, Problem> = (*self.place.file).into_deserializer();
                seed.deserialize(file).map(Some)
            }
            2 => seed
                .deserialize(self.place.line.into_deserializer())
                .map(Some),
            3 => seed
                .deserialize(self.place.column.into_deserializer())
                .map(Some),
            _ => self.value.take().map(|d| seed.deserialize(d)).transpose(),
        }
    }
}
