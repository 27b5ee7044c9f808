//! Problems laid out with the lines that they are about.

use std::ops::Range;
use std::sync::Arc;

use annotate_snippets::{AnnotationKind, Group, Level, Renderer, Snippet};

use crate::base::{Code, Diagnostic, Place};

use super::Error;

/// The bytes of a text that a place points at: the word that starts there, at least one character
/// where the line has one.
fn pointed_at(text: &str, place: &Place) -> Range<usize> {
    let number = |n: u32| usize::try_from(n).unwrap_or(usize::MAX).saturating_sub(1);
    let mut from = 0_usize;
    let mut lines = text.split_inclusive('\n');
    for _ in 0..number(place.line) {
        from += lines.next().map_or(0, str::len);
    }
    let line = lines.next().unwrap_or("").trim_end_matches(['\n', '\r']);
    let column = line
        .char_indices()
        .nth(number(place.column))
        .map_or(line.len(), |(at, _)| at);
    let rest = line.get(column..).unwrap_or("");
    let word = rest
        .find(|c: char| c.is_whitespace() || matches!(c, ':' | ',' | '}' | ']'))
        .unwrap_or(rest.len());
    let length = word.max(rest.chars().next().map_or(0, char::len_utf8));
    from + column..from + column + length
}

impl Error {
    /// Every problem with its source line, for people to read; the plain message where there are
    /// no problems of files. `colour` adds escape codes of a terminal.
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
        let mut out = String::new();
        for problem in self.diagnostics() {
            out.push_str(&renderer.render(&self.report(problem)));
            out.push_str("\n\n");
        }
        let count = self.diagnostics().len();
        let problems = if count == 1 { "problem" } else { "problems" };
        out.push_str(&format!("{count} {problems}\n"));
        out
    }

    fn text_of(&self, place: &Place) -> Option<&Arc<str>> {
        self.texts
            .iter()
            .find(|(name, _)| *name == place.file)
            .map(|(_, text)| text)
    }

    fn report<'a>(&'a self, problem: &'a Diagnostic) -> Vec<Group<'a>> {
        let title = Level::ERROR
            .primary_title(problem.what.as_str())
            .id(problem.code.as_str());
        let mut group = match self.text_of(&problem.place) {
            Some(text) => title.element(snippet(&problem.place, text, AnnotationKind::Primary, "")),
            None if problem.place.is_unknown() => Group::with_title(title),
            None => title.element(origin(problem)),
        };
        for (place, note) in &problem.also {
            if let Some(text) = self.text_of(place) {
                group = group.element(snippet(place, text, AnnotationKind::Context, note));
            }
        }
        if !problem.help.is_empty() {
            group = group.element(Level::HELP.message(problem.help.as_str()));
        }
        vec![group]
    }
}

/// The place of a problem of a file whose text is not at hand; only of bytes is the line known.
fn origin(problem: &Diagnostic) -> annotate_snippets::Origin<'_> {
    let place = &problem.place;
    let number = |n: u32| usize::try_from(n).unwrap_or(usize::MAX);
    let origin = annotate_snippets::Origin::path(&*place.file);
    if problem.code == Code::NotUtf8 {
        origin
            .line(number(place.line))
            .char_column(number(place.column))
    } else {
        origin
    }
}

fn snippet<'a>(
    place: &'a Place,
    text: &'a str,
    kind: AnnotationKind,
    note: &'a str,
) -> Snippet<'a, annotate_snippets::Annotation<'a>> {
    let mut annotation = kind.span(pointed_at(text, place));
    if !note.is_empty() {
        annotation = annotation.label(note);
    }
    Snippet::source(text)
        .path(&*place.file)
        .annotation(annotation)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn points_at_the_word() {
        let file = Arc::from("a.yaml");
        let text = "a: 1\nübel: wort, x\n\n";
        let at = |line, column| {
            let range = pointed_at(text, &Place::new(&file, line, column));
            text.get(range).map(str::to_owned)
        };
        assert_eq!(at(2, 1).as_deref(), Some("übel"));
        assert_eq!(at(2, 7).as_deref(), Some("wort"));
        assert_eq!(at(2, 5).as_deref(), Some(":"));
        assert_eq!(at(3, 1).as_deref(), Some(""));
        assert_eq!(at(99, 99).as_deref(), Some(""));
    }
}
