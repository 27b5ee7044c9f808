//! What stands in for a competition lift that the case rules out.
//!
//! Scope: the case. Where `of` is not allowed, the stand-in is what is allowed
//! under it (then under each of `or-of` in turn), not a complex, and may take one
//! of the roles that `of` has as a full form (those with the gate `full-form`; any
//! role where it has none), with the least departure, then the first by id. It
//! takes the full form's role, and `full: [of]` in selectors means it and no longer
//! `of`. Where nothing stands in, `full: [of]` matches nothing, the lower bound of a
//! `count` whose `what` names only such forms asks for nothing, and the answer says so.

use serde::Deserialize;

use crate::base::{At, CaseFieldId, ExerciseId};
use crate::rules::vocab::{Condition, IfUnknown, Sourced};

use super::common::Say;

/// What stands in for a competition lift that the case rules out.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct Fullest {
    /// When the rule speaks; always where absent.
    pub(crate) when: Option<Condition>,
    /// What it does where `when` can't be decided; required if `when` reads a field that may be missing.
    pub(crate) if_unknown: Option<IfUnknown>,
    /// A root of competition form.
    pub(crate) of: At<ExerciseId>,
    /// Roots to look under next, in this order.
    #[serde(default)]
    pub(crate) or_of: Vec<At<ExerciseId>>,
    /// Case fields that may rule it out.
    pub(crate) when_ruled_out_by: Vec<At<CaseFieldId>>,
    pub(crate) say: Say,
    pub(crate) because: String,
    pub(crate) source: Sourced,
}
