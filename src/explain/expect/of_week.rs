//! What is expected of a week.

use crate::base::{At, CaseVariantId};
use crate::explain::answer::{Plan, Proof};
use crate::explain::claim::WaitsFor;
use crate::rules::expect::{
    Contains, CountIs, DoseIs, FigureIs, FocusIs, Lacks, MissedIs, PhaseIs, ProofIs, ProofWord,
    ReasonIs, StandsBefore,
};
use crate::rules::kinds::Per;
use crate::rules::vocab::{DayFilter, Range};

use super::Instead;
use super::hold::{Asked, Expected, plan_of};
use super::look::{Line, Rests, counted, lines, matching, standing};

/// The expectations that ask something of a week.
macro_rules! of_weeks {
    ($($expected:ident)*) => {
        $(impl Expected for $expected {
            fn within(&self) -> &[At<CaseVariantId>] {
                &self.within
            }
            fn instead(&self, asked: &Asked<'_>) -> Option<Instead> {
                match plan_of(asked) {
                    Ok(plan) => self.of_week(asked, plan),
                    Err(instead) => instead.map(|instead| *instead),
                }
            }
        })*
    };
}

of_weeks!(Contains Lacks CountIs StandsBefore DoseIs ReasonIs FocusIs MissedIs ProofIs
    PhaseIs FigureIs);

impl Contains {
    fn of_week(&self, asked: &Asked<'_>, plan: &Plan) -> Option<Instead> {
        let every = lines(asked, plan, &self.on);
        let found = matching(asked, &self.what, &every);
        found
            .is_empty()
            .then(|| Instead::NoSuchItem(standing(&every)))
    }
}

impl Lacks {
    fn of_week(&self, asked: &Asked<'_>, plan: &Plan) -> Option<Instead> {
        let found = matching(asked, &self.what, &lines(asked, plan, &self.on));
        (!found.is_empty()).then(|| Instead::These(standing(&found)))
    }
}

impl CountIs {
    fn of_week(&self, asked: &Asked<'_>, plan: &Plan) -> Option<Instead> {
        let every = lines(asked, plan, &self.on);
        let found = matching(asked, &self.what, &every);
        let (least, most) = (
            self.at_least.as_ref().map(|least| least.value),
            self.at_most.as_ref().map(|most| most.value),
        );
        let wrong = |found: &[Line<'_>], day: Option<u8>| {
            let is = counted(found, self.counted_in);
            let holds = least.is_none_or(|least| is >= least) && most.is_none_or(|most| is <= most);
            (!holds).then(|| Instead::Count {
                is,
                at_least: least,
                at_most: most,
                day,
                of: standing(found),
            })
        };
        if self.per == Per::Week {
            return wrong(&found, None);
        }
        let mut days: Vec<u8> = every.iter().map(|line| line.session.day).collect();
        days.dedup();
        days.into_iter().find_map(|day| {
            let of_day: Vec<Line<'_>> = found
                .iter()
                .copied()
                .filter(|line| line.session.day == day)
                .collect();
            wrong(&of_day, Some(day))
        })
    }
}

impl StandsBefore {
    fn of_week(&self, asked: &Asked<'_>, plan: &Plan) -> Option<Instead> {
        let every = lines(asked, plan, &DayFilter::default());
        let place = |line: &Line<'_>| {
            every
                .iter()
                .position(|other| std::ptr::eq(other.item, line.item))
        };
        let first = matching(asked, &self.first, &every);
        let then = matching(asked, &self.then, &every);
        let pairs = first
            .iter()
            .flat_map(|one| then.iter().map(move |other| (one, other)))
            .filter(|(one, other)| !std::ptr::eq(one.item, other.item))
            .filter(|(one, other)| self.per == Per::Week || one.session.day == other.session.day);
        let (mut right, mut wrong) = (false, None);
        for (one, other) in pairs {
            if place(one) < place(other) {
                right = true;
            } else {
                wrong = wrong.or(Some((one, other)));
            }
        }
        match wrong {
            Some((one, other)) => Some(Instead::Order {
                earlier: other.standing(),
                later: one.standing(),
            }),
            None if right => None,
            None => Some(Instead::NoSuchItem(standing(&every))),
        }
    }
}

impl DoseIs {
    fn of_week(&self, asked: &Asked<'_>, plan: &Plan) -> Option<Instead> {
        let every = lines(asked, plan, &self.on);
        let found = matching(asked, &self.what, &every);
        if found.is_empty() {
            return Some(Instead::NoSuchItem(standing(&every)));
        }
        let wrong: Vec<Line<'_>> = found
            .into_iter()
            .filter(|line| {
                let item = line.item;
                let loaded = item.load.is_some();
                let estimated = item
                    .load
                    .as_ref()
                    .is_some_and(|load| load.estimated_from.is_some());
                let holds = self.sets.is_none_or(|range| range.holds(item.sets))
                    && self.reps.is_none_or(|range| range.holds(item.reps))
                    && self
                        .percent_from
                        .is_none_or(|range| item.percent.is_some_and(|(low, _)| range.holds(low)))
                    && self.percent_to.is_none_or(|range| {
                        item.percent.is_some_and(|(_, high)| range.holds(high))
                    })
                    && self.loaded.is_none_or(|wanted| wanted == loaded)
                    && self.estimated.is_none_or(|wanted| wanted == estimated);
                !holds
            })
            .collect();
        (!wrong.is_empty()).then(|| Instead::These(standing(&wrong)))
    }
}

impl ReasonIs {
    fn of_week(&self, asked: &Asked<'_>, plan: &Plan) -> Option<Instead> {
        let every = lines(asked, plan, &DayFilter::default());
        let found = matching(asked, &self.what, &every);
        let rests = |line: &Line<'_>| {
            let rests = Rests::of(plan, line.item);
            self.causes.iter().all(|id| rests.cause(id.as_str()))
                && self
                    .constraints
                    .iter()
                    .all(|id| rests.constraint(id.as_str()))
                && self.rules.iter().all(|id| rests.rule(id.as_str()))
        };
        if found.is_empty() {
            return Some(Instead::NoSuchItem(standing(&every)));
        }
        (!found.iter().any(rests)).then(|| Instead::These(standing(&found)))
    }
}

impl FocusIs {
    fn of_week(&self, _: &Asked<'_>, plan: &Plan) -> Option<Instead> {
        let works = |cause: &str| {
            plan.focus
                .iter()
                .any(|worked| worked.skill == self.skill.value && worked.cause.as_str() == cause)
        };
        let opposed = |cause: &str| {
            plan.waiting.iter().any(|waiting| {
                waiting.skill == self.skill.value
                    && waiting.cause.as_str() == cause
                    && matches!(waiting.why, WaitsFor::Opposite { .. })
            })
        };
        let holds = self.works_on.iter().all(|cause| works(cause.as_str()))
            && !self.leaves.iter().any(|cause| works(cause.as_str()))
            && self.opposed.iter().all(|cause| opposed(cause.as_str()));
        let worked = plan.focus.iter();
        (!holds).then(|| {
            let pairs = worked.map(|worked| (worked.skill.clone(), worked.cause.clone()));
            Instead::WorkedOn(pairs.collect())
        })
    }
}

impl MissedIs {
    fn of_week(&self, _: &Asked<'_>, plan: &Plan) -> Option<Instead> {
        let few = |units: i64, most: Option<i64>| most.is_none_or(|most| units <= most);
        let kept = self.kept.iter().all(|rule| {
            let mut shortfalls = plan.shortfalls.iter();
            !shortfalls.any(|shortfall| shortfall.ruling.is_rule(rule.as_str()))
        });
        let holds = few(plan.missed.last, self.last_at_most)
            && few(plan.missed.middle, self.middle_at_most)
            && few(plan.missed.first, self.first_at_most)
            && kept;
        (!holds).then(|| Instead::Missed {
            units: plan.missed,
            of: plan
                .shortfalls
                .iter()
                .map(|shortfall| shortfall.ruling.clone())
                .collect(),
        })
    }
}

impl ProofIs {
    fn of_week(&self, _: &Asked<'_>, plan: &Plan) -> Option<Instead> {
        let holds = match self.is {
            ProofWord::Claimed => plan.proof == Proof::Claimed,
            ProofWord::Limited => plan.proof == Proof::Limited,
        };
        (!holds).then_some(Instead::Proof(plan.proof))
    }
}

impl PhaseIs {
    fn of_week(&self, asked: &Asked<'_>, _: &Plan) -> Option<Instead> {
        let (_, week) = asked.of_block?;
        let is = &week.phase.id;
        (*is != self.is.value).then(|| Instead::Phase(is.clone()))
    }
}

impl FigureIs {
    fn of_week(&self, asked: &Asked<'_>, _: &Plan) -> Option<Instead> {
        let (block, week) = asked.of_block?;
        let mut figures = block.figures.iter().zip(&week.figures);
        let value = figures
            .find(|(figure, _)| figure.figure.id == self.figure.value)
            .and_then(|(_, value)| value.as_ref())
            .map(|value| value.value);
        let range = Range {
            at_least: self.at_least,
            at_most: self.at_most,
        };
        let holds = value.is_some_and(|value| range.holds(value));
        (!holds).then_some(Instead::Figure(value))
    }
}
