//! A line of a week as people write it: an exercise, sets × repetitions, percent of the best.
//!
//! `snatch 5x2 75-80%`, `3 x 3 no-contact power snatch 60 %`, `front squat + jerk 4x(2+1) 80%`.

/// What a line says.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Line {
    /// What is left of it: the exercise as it is written.
    pub(crate) name: String,
    pub(crate) sets: i64,
    /// Repetitions of a set; of a round those of each movement.
    pub(crate) reps: Vec<i64>,
    /// Low and high end; none where it says no load.
    pub(crate) percent: Option<(i64, i64)>,
}

/// Why a line is not read, and what to do.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Unread {
    pub(crate) what: String,
    pub(crate) help: &'static str,
}

/// More than anyone does.
const MOST_SETS: i64 = 50;
const MOST_REPS: i64 = 100;
const MOST_PERCENT: i64 = 150;

const AS_SETS: &str = "write sets x repetitions, such as `3x3`, or `4x(2+1)` for a round";

/// Reads a line.
///
/// # Errors
///
/// Why not.
pub(crate) fn line(text: &str) -> Result<Line, Unread> {
    let chars: Vec<char> = text.chars().map(plain).collect();
    let (mut name, mut dose, mut percent) = (String::new(), None, None);
    let mut at = 0;
    while let Some(char) = chars.get(at).copied() {
        let is_inside = at > 0
            && chars
                .get(at - 1)
                .is_some_and(|before| before.is_alphanumeric());
        if char.is_ascii_digit() && !is_inside {
            let rest = chars.get(at..).unwrap_or_default();
            if let Some((found, length)) = sets_and_reps(rest) {
                if dose.replace(found).is_some() {
                    return unread(
                        "it says sets and repetitions twice",
                        "write each dose on a line of its own",
                    );
                }
                at += length;
                continue;
            }
            let is_marked = chars
                .get(..at)
                .is_some_and(|before| before.iter().rev().find(|char| **char != ' ') == Some(&'@'));
            if let Some((found, length)) = percents(rest, is_marked) {
                if percent.replace(found).is_some() {
                    return unread(
                        "it says percents twice",
                        "write one percent, or a range such as `75-80%`",
                    );
                }
                at += length;
                continue;
            }
        }
        name.push(if matches!(char, '@' | ',' | ':' | ';') {
            ' '
        } else {
            char
        });
        at += 1;
    }
    let Some((sets, reps)) = dose else {
        return unread("it says no sets and repetitions", AS_SETS);
    };
    if !(1..=MOST_SETS).contains(&sets) || reps.iter().any(|reps| !(1..=MOST_REPS).contains(reps)) {
        return unread(
            "nobody does so many sets or repetitions",
            "write 1 to 50 sets of 1 to 100 repetitions",
        );
    }
    if let Some((low, high)) = percent
        && (low < 1 || low > high || high > MOST_PERCENT)
    {
        return unread(
            "this is no range of percents",
            "write 1 to 150 percent, the lower one first",
        );
    }
    // What leads to a load says nothing of the exercise.
    let words = name
        .split_whitespace()
        .filter(|word| *word != "at" || percent.is_none());
    let name = words.collect::<Vec<_>>().join(" ");
    if name.is_empty() {
        return unread(
            "it names no exercise",
            "write the exercise on the same line",
        );
    }
    Ok(Line {
        name,
        sets,
        reps,
        percent,
    })
}

fn unread<T>(what: &str, help: &'static str) -> Result<T, Unread> {
    Err(Unread {
        what: what.to_owned(),
        help,
    })
}

/// Signs that are written in several ways.
fn plain(char: char) -> char {
    match char {
        '×' | '*' | 'X' => 'x',
        '–' | '—' | '−' => '-',
        other => other,
    }
}

/// A whole number at the beginning, and how long it is.
fn number(chars: &[char]) -> Option<(i64, usize)> {
    let digits = chars
        .iter()
        .take_while(|char| char.is_ascii_digit())
        .count();
    let text: String = chars.iter().take(digits.min(6)).collect();
    (digits > 0 && digits <= 6).then_some((text.parse().ok()?, digits))
}

fn spaces(chars: &[char]) -> usize {
    chars.iter().take_while(|char| **char == ' ').count()
}

/// What comes behind spaces and this sign.
fn behind(chars: &[char], at: usize, sign: char) -> Option<usize> {
    let rest = chars.get(at..)?;
    let at = at + spaces(rest);
    (chars.get(at) == Some(&sign)).then_some(at + 1)
}

fn skip(chars: &[char], at: usize) -> usize {
    at + chars.get(at..).map_or(0, spaces)
}

/// `3x3`, `4 x (2 + 1)`, `4x2+1`.
fn sets_and_reps(chars: &[char]) -> Option<((i64, Vec<i64>), usize)> {
    let (sets, length) = number(chars)?;
    let word: Vec<char> = "sets of".chars().collect();
    let from = skip(chars, length);
    let at = if chars.get(from..from + word.len()) == Some(word.as_slice()) {
        skip(chars, from + word.len())
    } else {
        skip(chars, behind(chars, length, 'x')?)
    };
    let in_brackets = chars.get(at) == Some(&'(');
    let mut at = skip(chars, at + usize::from(in_brackets));
    let mut reps = Vec::new();
    loop {
        let (number, length) = number(chars.get(at..)?)?;
        reps.push(number);
        at += length;
        match behind(chars, at, '+') {
            // A plus sign between movements is none between numbers.
            Some(next)
                if chars
                    .get(skip(chars, next))
                    .is_some_and(char::is_ascii_digit) =>
            {
                at = skip(chars, next);
            }
            _ => break,
        }
    }
    if in_brackets {
        at = behind(chars, at, ')')?;
    }
    let ends = chars
        .get(at)
        .is_none_or(|next| !next.is_alphanumeric() && *next != '%');
    ends.then_some(((sets, reps), at))
}

/// `75%`, `75-80 %`, `72,5 percent`, and `@85` without a sign; what stands behind a comma or point is cut off.
fn percents(chars: &[char], is_marked: bool) -> Option<((i64, i64), usize)> {
    let (low, length) = number(chars)?;
    let length = length + fraction(chars, length);
    let (high, at) = match behind(chars, length, '-') {
        Some(next) => {
            let next = skip(chars, next);
            let (high, length) = number(chars.get(next..)?)?;
            (high, next + length + fraction(chars, next + length))
        }
        None => (low, length),
    };
    if let Some(at) = behind(chars, at, '%') {
        return Some(((low, high), at));
    }
    let word: Vec<char> = "percent".chars().collect();
    let from = skip(chars, at);
    if chars.get(from..from + word.len()) == Some(word.as_slice()) {
        return Some(((low, high), from + word.len()));
    }
    let ends = chars.get(at).is_none_or(|next| !next.is_alphanumeric());
    (is_marked && ends).then_some(((low, high), at))
}

/// How long the fraction of a number is.
fn fraction(chars: &[char], at: usize) -> usize {
    let is_point = chars.get(at).is_some_and(|sign| matches!(sign, ',' | '.'));
    let digits = chars.get(at + 1..).map_or(0, |rest| {
        rest.iter().take_while(|char| char.is_ascii_digit()).count()
    });
    if is_point && digits > 0 {
        digits + 1
    } else {
        0
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use rstest::rstest;

    use super::*;

    #[rstest]
    #[case("push 5x2 75%", "push", 5, &[2], Some((75, 75)))]
    #[case("push 5 × 2 @ 75–80 %", "push", 5, &[2], Some((75, 80)))]
    #[case("3x3 far push, 60%", "far push", 3, &[3], Some((60, 60)))]
    #[case("push + pull 4x(2+1) 80 %", "push + pull", 4, &[2, 1], Some((80, 80)))]
    #[case("push + pull 4 * 2+1", "push + pull", 4, &[2, 1], None)]
    #[case("push 3x1 + pull", "push + pull", 3, &[1], None)]
    #[case("push 3x1 @85", "push", 3, &[1], Some((85, 85)))]
    #[case("push 5 sets of 5 at 72,5 percent", "push", 5, &[5], Some((72, 72)))]
    #[case("60% push 3X10", "push", 3, &[10], Some((60, 60)))]
    fn reads_what_people_write(
        #[case] text: &str,
        #[case] name: &str,
        #[case] sets: i64,
        #[case] reps: &[i64],
        #[case] percent: Option<(i64, i64)>,
    ) {
        let wanted = Line {
            name: name.to_owned(),
            sets,
            reps: reps.to_vec(),
            percent,
        };
        assert_eq!(line(text), Ok(wanted));
    }

    #[rstest]
    #[case("push", "no sets and repetitions")]
    #[case("push 75%", "no sets and repetitions")]
    #[case("push 3x3 2x2", "twice")]
    #[case("push 3x3 70% 80%", "percents twice")]
    #[case("3x3 75%", "no exercise")]
    #[case("push 0x3", "so many sets")]
    #[case("push 3x101", "so many sets")]
    #[case("push 3x3 80-75%", "no range")]
    #[case("push 3x3 151%", "no range")]
    #[case("", "no sets")]
    fn tells_what_it_cannot_read(#[case] text: &str, #[case] what: &str) {
        let wrong = line(text).unwrap_err();
        assert!(wrong.what.contains(what), "{wrong:?}");
    }

    #[test]
    fn never_panics() {
        for text in [
            "x",
            "3x",
            "3x(",
            "3x(2+",
            "3x(2+1",
            "%",
            "9999999999x3",
            "3-%",
            "é3x3%",
            "3x3)",
        ] {
            let _read = line(text);
        }
    }
}
