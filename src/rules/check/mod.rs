//! What a pack as read must also be, so that everything above can rely on it.

mod axes;
mod bounds;
mod circle;
mod conditions;
pub(crate) mod copies;
mod course;
mod dangling;
pub(crate) mod date;
pub(crate) mod declared;
mod expectations;
mod fields;
mod from_week_to_week;
mod general;
mod items;
mod lineage;
mod names;
mod numbers;
mod often;
mod order;
mod reach;
mod reviewing;
pub(crate) mod salvaged;
pub(crate) mod sections;
mod seeing;
mod selectors;
mod sources;
mod tables;
pub(crate) mod together;
mod track_tests;
mod tracks;
mod unplaced;
pub(crate) mod unread;
mod walk;
mod walk_expect;
mod walk_kinds;
mod walk_vocab;
mod watched_tests;

use crate::base::Diagnostic;
use crate::rules::pack::Pack;
use crate::rules::read::settle;

use declared::Declared;

/// What every check works on.
pub(crate) struct Checks<'p, 't> {
    pub(crate) pack: &'p Pack,
    pub(crate) declared: Declared<'t>,
    pub(crate) out: Vec<Diagnostic>,
}

/// Checks what was read of a pack; items that could not be read are not in it, but declared.
pub(crate) fn check<'t>(pack: &Pack, declared: Declared<'t>) -> (Vec<Diagnostic>, Declared<'t>) {
    let mut checks = Checks {
        pack,
        declared,
        out: Vec::new(),
    };
    let subjects = [
        dangling::check,
        general::check,
        names::check,
        axes::check,
        lineage::check,
        conditions::check,
        selectors::check,
        numbers::check,
        fields::check,
        tables::check,
        bounds::check,
        from_week_to_week::check,
        often::check,
        order::check,
        seeing::check,
        course::check,
        reviewing::check,
        tracks::check,
        track_tests::check,
        watched_tests::check,
        sources::check,
        expectations::check,
    ];
    for subject in subjects {
        subject(&mut checks);
    }
    let Checks {
        mut declared,
        mut out,
        ..
    } = checks;
    settle(std::mem::take(&mut declared.beyond), &mut out);
    (out, declared)
}
