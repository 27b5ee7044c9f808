//! Tracks made from pieces of polynomials, so that every measure is known beforehand, and noise of our own.

use std::fmt::Write as _;

/// From 0 to 1 and level at both ends: 3u² − 2u³.
pub fn smooth(u: f64) -> f64 {
    let u = u.clamp(0.0, 1.0);
    u * u * (3.0 - 2.0 * u)
}

/// Its integral from 0: u³ − u⁴/2, and from 1 on half of it and the rest whole.
fn area(u: f64) -> f64 {
    let inside = u.clamp(0.0, 1.0);
    inside.powi(3) - inside.powi(4) / 2.0 + (u - 1.0).max(0.0)
}

/// Keys of a way to the side: at which time it is where, in m; level at each.
fn between(keys: &[(f64, f64)], t: f64) -> f64 {
    let mut at = keys[0].1;
    for pair in keys.windows(2) {
        let [(from, one), (to, other)] = [pair[0], pair[1]];
        if t >= from {
            at = one + (other - one) * smooth((t - from) / (to - from));
        }
    }
    at
}

/// A lift with all that decides it: metres and seconds.
#[derive(Clone, Debug)]
pub struct Lift {
    /// At rest before it begins.
    pub rest: f64,
    /// How long the bar gets faster.
    pub pull: f64,
    /// Its greatest speed.
    pub fastest: f64,
    /// How fast it loses speed then; below what it is fast falling.
    pub slows: f64,
    /// How fast it falls before it is caught.
    pub falls: f64,
    /// How long the catch takes.
    pub catch: f64,
    /// Places to the side against the start: rearmost in the pull, foremost before the highest point, in the receive.
    pub aside: [f64; 3],
    /// Where the bar lies at the start, across and up.
    pub start: (f64, f64),
}

/// Like published means: 71.8 % of the height of a lifter of 1.70 m (Ai 2018), caught 12 cm behind (Stone 1998).
pub fn like_published() -> Lift {
    Lift {
        rest: 0.6,
        pull: 0.94,
        fastest: 1.75,
        slows: 9.0,
        falls: 1.2,
        catch: 0.2,
        aside: [-0.06, 0.02, -0.12],
        start: (1.5, 0.225),
    }
}

impl Lift {
    fn highest_at(&self) -> f64 {
        self.rest + self.pull + self.fastest / self.slows
    }

    fn caught_from(&self) -> f64 {
        self.highest_at() + self.falls / self.slows
    }

    pub fn received_at(&self) -> f64 {
        self.caught_from() + self.catch
    }

    /// Above the start at the highest point: the integral of a smooth rise to the greatest speed, then v²/2a.
    pub fn rise(&self) -> f64 {
        self.fastest * self.pull / 2.0 + self.fastest * self.fastest / (2.0 * self.slows)
    }

    /// From the highest point to the receive.
    pub fn drop(&self) -> f64 {
        self.falls * self.falls / (2.0 * self.slows) + self.falls * self.catch / 2.0
    }

    /// Above the start at a time.
    fn up(&self, t: f64) -> f64 {
        let pulled = t - self.rest;
        if pulled <= self.pull {
            return self.fastest * self.pull * area((pulled / self.pull).max(0.0));
        }
        let flown = (pulled - self.pull).min(self.caught_from() - self.rest - self.pull);
        let flight = self.fastest * flown - self.slows * flown * flown / 2.0;
        let caught = ((t - self.caught_from()) / self.catch).clamp(0.0, 1.0);
        // Speed goes from -falls to 0 smoothly: the way is the integral of 1 − smooth.
        let down = self.falls * self.catch * (caught - area(caught));
        // Then the lifter stands up, higher than the bar was pulled.
        let stood = 0.9 * smooth((t - self.received_at() - 0.5) / 1.6);
        self.fastest * self.pull / 2.0 + flight - down + stood
    }

    fn across(&self, t: f64) -> f64 {
        let fast = self.rest + self.pull;
        let [rear, front, end] = self.aside;
        between(
            &[
                (self.rest, 0.0),
                (self.rest + 0.6 * self.pull, rear),
                (fast + 0.1, front),
                (self.received_at(), end),
            ],
            t,
        )
    }

    /// Rows of time, across and up.
    pub fn rows(&self, rate: f64) -> Vec<[f64; 3]> {
        let last = self.received_at() + 2.4;
        let mut rows = Vec::new();
        let mut n = 0_u32;
        while f64::from(n) / rate <= last {
            let t = f64::from(n) / rate;
            rows.push([t, self.start.0 + self.across(t), self.start.1 + self.up(t)]);
            n += 1;
        }
        rows
    }
}

/// A jerk: dip, drive, fall under, receive.
#[derive(Clone, Debug)]
pub struct Jerk {
    pub dip: f64,
    pub dip_drift: f64,
    pub drive_drift: f64,
    pub end: f64,
    pub fastest: f64,
    pub rack: f64,
}

impl Jerk {
    const REST: f64 = 0.6;
    const DIP: f64 = 0.5;
    const DRIVE: f64 = 0.32;
    const SLOWS: f64 = 9.0;
    const FALL: f64 = 0.06;
    const CATCH: f64 = 0.16;

    fn spent_at(&self) -> f64 {
        Self::REST + Self::DIP + Self::DRIVE + self.fastest / Self::SLOWS
    }

    /// Above the rack at the highest point.
    pub fn rise(&self) -> f64 {
        self.fastest * Self::DRIVE / 2.0 + self.fastest * self.fastest / (2.0 * Self::SLOWS)
            - self.dip
    }

    pub fn rows(&self, rate: f64) -> Vec<[f64; 3]> {
        let driven = Self::REST + Self::DIP;
        let fast = driven + Self::DRIVE;
        let last = self.spent_at() + Self::FALL + Self::CATCH;
        let up = |t: f64| {
            let down = self.dip * smooth((t - Self::REST) / Self::DIP);
            let drive = ((t - driven) / Self::DRIVE).clamp(0.0, 1.0);
            let flown = (t - fast).clamp(0.0, self.spent_at() - fast + Self::FALL);
            let caught = ((t - self.spent_at() - Self::FALL) / Self::CATCH).clamp(0.0, 1.0);
            let falls = Self::SLOWS * Self::FALL;
            self.fastest * Self::DRIVE * area(drive) - down + self.fastest * flown
                - Self::SLOWS * flown * flown / 2.0
                - falls * Self::CATCH * (caught - area(caught))
                + 0.15 * smooth((t - last - 0.3) / 0.8)
        };
        let across = |t: f64| {
            between(
                &[
                    (Self::REST, 0.0),
                    (driven, self.dip_drift),
                    (fast, self.dip_drift + self.drive_drift),
                    (last, self.end),
                ],
                t,
            )
        };
        let mut rows = Vec::new();
        let mut n = 0_u32;
        while f64::from(n) / rate <= last + 1.4 {
            let t = f64::from(n) / rate;
            rows.push([t, 0.8 + across(t), self.rack + up(t)]);
            n += 1;
        }
        rows
    }
}

/// Numbers that look random and are the same everywhere.
pub struct Noise(u64);

impl Noise {
    pub fn new(seed: u64) -> Self {
        Self(seed.wrapping_mul(0x9e37_79b9_7f4a_7c15) | 1)
    }

    fn next(&mut self) -> f64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        #[allow(clippy::cast_precision_loss)]
        let part = (self.0 >> 11) as f64;
        part / 9_007_199_254_740_992.0
    }

    /// Near the bell curve, with a spread of 1: twelve even numbers together.
    pub fn bell(&mut self) -> f64 {
        (0..12).map(|_| self.next()).sum::<f64>() - 6.0
    }
}

/// The same rows with noise of this spread, in m, on both places.
pub fn noisy(rows: &[[f64; 3]], spread: f64, seed: u64) -> Vec<[f64; 3]> {
    let mut noise = Noise::new(seed);
    let of = |[t, across, up]: &[f64; 3]| {
        [
            *t,
            across + spread * noise.bell(),
            up + spread * noise.bell(),
        ]
    };
    rows.iter().map(of).collect()
}

/// A file in metres.
pub fn csv(rows: &[[f64; 3]]) -> String {
    let mut text = String::from("time,x,y\n");
    for [t, across, up] in rows {
        let _ = writeln!(text, "{t:.6},{across:.6},{up:.6}");
    }
    text
}
