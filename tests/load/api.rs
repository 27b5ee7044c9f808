//! The one place where these tests touch the library.

use std::sync::Arc;

use crate::rules::case_check;
use crate::rules::load;
use crate::rules::read::{Limits, parse};

pub(super) use crate::base::{Code, Diagnostic};
pub(super) use crate::rules::case_check::{Case, Value};
pub(super) use crate::rules::pack::Pack;
pub(super) use crate::{Error, KnowledgeBase};
/// Bounds on what is read.
pub(super) type Bounds = Limits;

/// Reads a pack from names and texts.
pub(super) fn read_pack(files: &[(&str, &str)], limits: &Bounds) -> Result<Pack, Vec<Diagnostic>> {
    let files: Vec<(Arc<str>, Arc<str>)> = files
        .iter()
        .map(|(name, text)| (Arc::from(*name), Arc::from(*text)))
        .collect();
    load::load(parse, &files, Vec::new(), limits)
}

/// Reads a case against a pack.
pub(super) fn read_case(text: &str, pack: &Pack, limits: &Bounds) -> Result<Case, Vec<Diagnostic>> {
    case_check::read_case(&Arc::from("case.yaml"), text, pack, pack, limits)
}

/// What a pack says and nothing reads.
pub(super) fn remarks(pack: &Pack) -> Vec<Diagnostic> {
    crate::rules::check::unread::unread(pack)
}

/// What is wrong with bytes that are no text of a case.
pub(super) fn read_bytes_as_case(bytes: &[u8]) -> Error {
    let files = super::small::FILES;
    let base = KnowledgeBase::from_texts(files).unwrap_or_else(|error| panic!("{error}"));
    match base.case_from_bytes("case.yaml", bytes) {
        Ok(_) => panic!("the case was read"),
        Err(error) => error,
    }
}
