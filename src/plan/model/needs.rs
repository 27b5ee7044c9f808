//! `needs`: items of a session that ask for another one beside them.

use crate::base::RuleId;
use crate::rules::kinds::Needs;

use super::build::Builder;
use super::shape::{Couple, CoupleKind};

pub(super) fn add(builder: &mut Builder<'_, '_>, id: &RuleId, rule: &Needs) {
    for day in 0..builder.days() {
        let (what, needs) = (
            builder.matching(&rule.what, day),
            builder.matching(&rule.needs, day),
        );
        let partners = builder.partners(day, &what, &needs, rule.same_skill);
        builder.couple(
            day,
            Couple {
                rule: id.to_string(),
                level: rule.yields.level(),
                kind: CoupleKind::Needs(partners),
            },
        );
    }
}
