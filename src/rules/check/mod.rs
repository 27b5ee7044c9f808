//! What a pack as read must also be, so that everything above can rely on it.

mod dangling;
pub(crate) mod date;
pub(crate) mod declared;
mod items;
pub(crate) mod sections;
mod walk;
mod walk_kinds;
mod walk_vocab;

use crate::base::Diagnostic;
use crate::rules::pack::Pack;

use declared::Declared;

/// What every check works on.
pub(crate) struct Checks<'p, 't> {
    pub(crate) pack: &'p Pack,
    pub(crate) declared: Declared<'t>,
    pub(crate) out: Vec<Diagnostic>,
}

/// Checks what was read of a pack; items that could not be read are not in it, but declared.
pub(crate) fn check(pack: &Pack, declared: Declared<'_>) -> Vec<Diagnostic> {
    let mut checks = Checks { pack, declared, out: Vec::new() };
    dangling::check(&mut checks);
    checks.out
}
