//! From a form that was checked beforehand to a pack: what `load` makes of the same texts, without parsing or checking.

use serde::de::DeserializeOwned;

use crate::base::{At, RuleId};

use super::by_kind::sort_rules;
use super::check::sections::{rule_sections, sections};
use super::load::variant_words;
use super::pack::{Items, Pack};
use super::read::{Form, Stream};

/// The pack of a form; none where something in it does not fit.
pub(crate) fn pack_of(form: &Form<'_>) -> Option<Pack> {
    let mut pack = Pack::default();
    form.files(|stream| {
        stream.entries(|stream, kind| match kind.text {
            "format" => stream.skip(),
            kind if !variant_words(kind).is_empty() => {
                stream.entries(|stream, section| take(stream, kind, section.text, &mut pack))
            }
            kind => take(stream, kind, "", &mut pack),
        })
    })?;
    sort_rules(&mut pack);
    Some(pack)
}

fn items<I: DeserializeOwned + Ord, T: DeserializeOwned>(
    stream: &mut Stream<'_, '_>,
    held: &mut Items<I, T>,
) -> Option<()> {
    stream.entries(|stream, key| {
        let (id, item) = stream.item(&key)?;
        held.insert(id, item);
        Some(())
    })
}

fn rules<T: DeserializeOwned>(
    stream: &mut Stream<'_, '_>,
    held: &mut Vec<(At<RuleId>, T)>,
) -> Option<()> {
    stream.entries(|stream, key| {
        held.push(stream.item(&key)?);
        Some(())
    })
}

macro_rules! readers {
    ($($kind:literal $variant:literal $sort:ident $field:ident;)*) => {
        /// Reads what a section of a kind lists.
        fn take(stream: &mut Stream<'_, '_>, kind: &str, variant: &str, pack: &mut Pack) -> Option<()> {
            match (kind, variant) {
                $(($kind, $variant) => items(stream, &mut pack.$field),)*
                ("rules", variant) => take_rules(stream, variant, pack),
                _ => None,
            }
        }
    };
}
sections!(readers);

macro_rules! rule_readers {
    ($($kind:literal $field:ident;)*) => {
        fn take_rules(stream: &mut Stream<'_, '_>, kind: &str, pack: &mut Pack) -> Option<()> {
            match kind {
                $($kind => rules(stream, &mut pack.rules.$field),)*
                _ => None,
            }
        }
    };
}
rule_sections!(rule_readers);
