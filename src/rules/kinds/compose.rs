//! What may be put together where variations that nobody listed are asked for.
//!
//! Scope: none of a week. It says which exercises a week may be made of, before anything is chosen.

use serde::Deserialize;

use crate::base::{At, RoleId};
use crate::rules::vocab::{Condition, IfUnknown, Selector, Sourced};

/// What may be put together where variations that nobody listed are asked for.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct Compose {
    /// When the rule speaks; always where absent.
    pub(crate) when: Option<Condition>,
    /// What it does where `when` can't be decided; required if `when` reads a field that may be missing.
    pub(crate) if_unknown: Option<IfUnknown>,
    /// Listed exercises that may have one constraint more, read without placing; complexes never.
    pub(crate) what: Selector,
    /// Roles that what is put together may take; at least one.
    pub(crate) roles: Vec<At<RoleId>>,
    /// The most that are put together for each movement cause in focus, 1 to 20.
    pub(crate) per_cause_at_most: At<u8>,
    pub(crate) because: String,
    pub(crate) source: Sourced,
}
