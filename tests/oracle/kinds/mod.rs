//! Each rule kind by hand: a small pack, a week, and what follows from the description.
//!
//! Day 1 is stout: 4 sets of 2 at 72 to 80, 880 seconds. Day 3 is mild: 3 sets of 4 at 60 to 68,
//! 480 seconds. Day 4 is stout again. Without a load: 2 sets of 8, 200 seconds.

mod days;
mod doses;
mod focus;
mod forms;
mod loads;
mod order;
mod said;
mod session;
pub mod small;
mod sums;
mod two_days;
mod worths;
