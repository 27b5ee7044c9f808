//! The walk over the rule kinds.

use crate::rules::kinds::{
    Adjacent, Against, Alike, Amount, Apart, Before, Cap, CarryOver, Caution, Compose, Count,
    CountedIn, Differ, DoseRule, Each, Exclude, Floor, Focus, Followed, Fullest, HelpWorth,
    HowOften, Kept, LeastLoad, Lighter, LighterSet, LoadStep, Minutes, Needs, OftenStep, Per,
    Position, Prefer, Proportion, QualityWorth, Ramp, RampStep, Repeat, Same, Say, Shift, Side,
    StressCap, Stretch, Timing, Together, Trim, Volume, Watch, Way, Where, Within,
};

use super::walk::{Placed, Spot, Visit, Walk, plain, walk};

plain!(
    Per, CountedIn, Side, Same, Way, Against, Within, Where, Stretch, Each, Together
);

walk! {
    Say { en }
    Amount { whole, field, percent }
    RampStep { from_percent, seconds, sets }
    LighterSet { percent_of_load, reps }

    Adjacent { when, if_unknown, what, directly, which, same_skill, yields, because, source }
    Alike { when, if_unknown, what, same, at_most, on, yields, because, source }
    Apart {
        when, if_unknown, what, from, free_days, way, same_skill, same_exercise, wraps, yields, because, source,
    }
    Before { when, if_unknown, first, then, same_skill, yields, because, source }
    Cap {
        when, if_unknown, what, percent_of_reference_at_most, percent_of_own_highest_at_most, because, source,
    }
    CarryOver { when, if_unknown, from, to, causes, percent, because, source }
    Caution { when, if_unknown, what, say, because, source }
    Compose { when, if_unknown, what, roles, per_cause_at_most, because, source }
    Count {
        when, if_unknown, what, per, counted_in, at_least, at_most, scaled_by, on, unit, yields, because, source,
    }
    Differ { when, if_unknown, what, shared_at_most, yields, because, source }
    DoseRule { when, if_unknown, what, give, instead_of, because, source }
    Exclude { when, if_unknown, what, on, yields, because, source }
    Floor { when, if_unknown, quality, points_at_least, scaled_by, unit, yields, because, source }
    Focus { when, if_unknown, per_skill_at_most, in_all_at_most, demand_at_least, because, source }
    Followed { when, if_unknown, what, by, freer, within, closer_by, yields, because, source }
    Fullest { when, if_unknown, of, or_of, when_ruled_out_by, say, because, source }
    HowOften { when, if_unknown, faults, steps, say, because, source }
    OftenStep { from, percent }
    Kept { when, if_unknown, what, weeks, yields, because, source }
    LoadStep { when, if_unknown, what, on, points, because, source }
    Shift {
        when, if_unknown, of, to, counted_in, up_at_most, down_at_most, unit, yields, because, source,
    }
    HelpWorth { when, if_unknown, table, because, source }
    LeastLoad { when, if_unknown, what, lightest_full_diameter, at_least, say, because, source }
    Lighter { when, if_unknown, what, than, against, above_at_most, yields, because, source }
    Minutes { when, if_unknown, at_least, at_most, on, unit, yields, because, source }
    Needs { when, if_unknown, what, needs, same_skill, yields, because, source }
    Position { when, if_unknown, what, place as "where", of, yields, because, source }
    Prefer { when, if_unknown, what, weight, each, on, because, source }
    Proportion {
        when, if_unknown, of, to, counted_in, percent_at_most, percent_at_least, unit, yields, because, source,
    }
    QualityWorth { when, if_unknown, qualities, above_floor, table, because, source }
    Ramp { when, if_unknown, what, steps, lighter_for_fewer_pieces, sets_apart_percent, because, source }
    Repeat { when, if_unknown, what, at_least_if_used, at_most, yields, because, source }
    StressCap { when, if_unknown, of, per, at_most, on, unit, yields, because, source }
    Timing { when, if_unknown, on, warm_up_seconds, changeover_seconds, because, source }
    Trim { when, if_unknown, what, on, sets_fewer, sets_at_least, because, source }
    Volume { when, if_unknown, what, table, together, unit, yields, because, source }
    Watch { when, if_unknown, what, rank, look, lighten, because, source }
}
