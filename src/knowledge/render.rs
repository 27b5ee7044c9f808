//! Problems laid out with the lines that they are about.

use std::collections::BTreeMap;
use std::ops::Range;

use annotate_snippets::{AnnotationKind, Group, Level, Renderer, Snippet};

use crate::base::{Code, Diagnostic, Place};

use super::{Error, ErrorKind};

/// So many problems are laid out; nobody reads on behind them.
const MOST: usize = 200;

/// Lines with more bytes are not shown, so that many problems of one line take no long time.
const LONGEST: usize = 4_000;

/// The lines of the texts that problems are about, by file.
type Lines<'a> = BTreeMap<&'a str, Vec<&'a str>>;

fn number(n: u32) -> usize {
    usize::try_from(n).unwrap_or(usize::MAX)
}

/// The line of a place, without its end; none where the text is not at hand.
fn line_of<'a>(lines: &Lines<'a>, place: &Place) -> Option<&'a str> {
    let all = lines.get(&*place.file)?;
    let line = all.get(number(place.line).saturating_sub(1)).copied();
    Some(line.unwrap_or("").trim_end_matches(['\n', '\r']))
}

/// The bytes of a line that a column points at: the word that starts there, at least one character
/// where the line has one.
fn pointed_at(line: &str, column: u32) -> Range<usize> {
    let from = line
        .char_indices()
        .nth(number(column).saturating_sub(1))
        .map_or(line.len(), |(at, _)| at);
    let rest = line.get(from..).unwrap_or("");
    let word = rest
        .find(|c: char| c.is_whitespace() || matches!(c, ':' | ',' | '}' | ']'))
        .unwrap_or(rest.len());
    let length = word.max(rest.chars().next().map_or(0, char::len_utf8));
    from..from + length
}

impl Error {
    /// The first 200 problems, each with its source line, for people to read, and how many there are
    /// in all; the plain message where there are no problems of files. `colour` adds escape codes of
    /// a terminal. [`Error::diagnostics`] and [`Error::document`] have every problem.
    #[must_use]
    pub fn rendered(&self, colour: bool) -> String {
        if self.diagnostics().is_empty() {
            return format!("error: {self}\n");
        }
        let renderer = if colour {
            Renderer::styled()
        } else {
            Renderer::plain()
        };
        let texts = self.texts.iter();
        let lines: Lines<'_> = texts
            .map(|(name, text)| (&**name, text.split_inclusive('\n').collect()))
            .collect();
        // Of a file that was read as a stream no line is at hand, and every place is known.
        let streamed = self.kind() == ErrorKind::Track;
        let mut out = String::new();
        for problem in self.diagnostics().iter().take(MOST) {
            out.push_str(&renderer.render(&report(problem, &lines, streamed)));
            out.push_str("\n\n");
        }
        let count = self.diagnostics().len();
        let problems = if count == 1 { "problem" } else { "problems" };
        out.push_str(&format!("{count} {problems}"));
        if count > MOST {
            out.push_str(&format!("; these are the first {MOST}"));
        }
        out.push('\n');
        out
    }
}

fn report<'a>(problem: &'a Diagnostic, lines: &Lines<'a>, streamed: bool) -> Vec<Group<'a>> {
    let title = Level::ERROR
        .primary_title(problem.what.as_str())
        .id(problem.code.as_str());
    let place = &problem.place;
    let mut group = match line_of(lines, place) {
        Some(line) if line.len() <= LONGEST => {
            title.element(snippet(place, line, AnnotationKind::Primary, ""))
        }
        None if place.is_unknown() => Group::with_title(title),
        line => title.element(origin(
            place,
            streamed || line.is_some() || problem.code == Code::NotUtf8,
        )),
    };
    for (place, note) in &problem.also {
        group = match line_of(lines, place) {
            Some(line) if line.len() <= LONGEST => {
                group.element(snippet(place, line, AnnotationKind::Context, note))
            }
            Some(_) => group.element(Level::NOTE.message(format!("{place}: {note}"))),
            None => group,
        };
    }
    if !problem.help.is_empty() {
        group = group.element(Level::HELP.message(problem.help.as_str()));
    }
    vec![group]
}

/// A place whose line is not shown; of a file whose text is not at hand only that of bytes is known.
fn origin(place: &Place, is_known: bool) -> annotate_snippets::Origin<'_> {
    let origin = annotate_snippets::Origin::path(&*place.file);
    if is_known {
        origin
            .line(number(place.line))
            .char_column(number(place.column))
    } else {
        origin
    }
}

fn snippet<'a>(
    place: &'a Place,
    line: &'a str,
    kind: AnnotationKind,
    note: &'a str,
) -> Snippet<'a, annotate_snippets::Annotation<'a>> {
    let mut annotation = kind.span(pointed_at(line, place.column));
    if !note.is_empty() {
        annotation = annotation.label(note);
    }
    Snippet::source(line)
        .line_start(number(place.line))
        .path(&*place.file)
        .annotation(annotation)
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;
    use std::time::{Duration, Instant};

    use super::*;

    #[test]
    fn points_at_the_word() {
        let file = Arc::from("a.yaml");
        let text = "a: 1\nübel: wort, x\r\n\n";
        let lines = Lines::from([("a.yaml", text.split_inclusive('\n').collect())]);
        let at = |line, column| {
            let line = line_of(&lines, &Place::new(&file, line, column))?;
            line.get(pointed_at(line, column)).map(str::to_owned)
        };
        assert_eq!(at(2, 1).as_deref(), Some("übel"));
        assert_eq!(at(2, 7).as_deref(), Some("wort"));
        assert_eq!(at(2, 5).as_deref(), Some(":"));
        assert_eq!(at(3, 1).as_deref(), Some(""));
        assert_eq!(at(99, 99).as_deref(), Some(""));
    }

    /// So many problems in one text, each on a line of its own or all on one.
    fn many(count: u32, on_one_line: bool) -> Error {
        let file: Arc<str> = Arc::from("a.yaml");
        let end = if on_one_line { ' ' } else { '\n' };
        let text: String = (0..count).map(|_| format!("some-word{end}")).collect();
        let place = |at: u32| {
            let (line, column) = if on_one_line {
                (1, at * 10 + 1)
            } else {
                (at + 1, 1)
            };
            Place::new(&file, line, column)
        };
        let all = (0..count).map(|at| {
            Diagnostic::new(Code::DanglingId, place(at), "no such word", "write another")
                .with_also(place(count - 1), "the last")
        });
        let all = all.collect();
        Error::found(ErrorKind::Case, all, vec![(Arc::clone(&file), text.into())])
    }

    #[test]
    fn shows_the_first_of_very_many_and_counts_all() {
        for on_one_line in [false, true] {
            let start = Instant::now();
            let error = many(60_000, on_one_line);
            let shown = error.rendered(false);
            assert_eq!(shown.matches("no such word").count(), MOST);
            assert!(shown.ends_with("60000 problems; these are the first 200\n"));
            let place = if on_one_line {
                "a.yaml:1:1991"
            } else {
                "a.yaml:200:1"
            };
            assert!(shown.contains(&format!("--> {place}\n")));
            assert_eq!(shown.matches("the last").count(), MOST);
            // It takes some hundredths of a second; with the whole text for each, minutes.
            assert!(start.elapsed() < Duration::from_secs(10));
            // What is laid out is bounded, however long the text.
            assert!(shown.len() < MOST * 1_000, "{}", shown.len());
            assert_eq!(error.diagnostics().len(), 60_000);
        }
        let few = many(200, false).rendered(false);
        assert!(few.ends_with("200 problems\n"));
    }
}
