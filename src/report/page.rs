//! Lines of a page: wrapped to a width, with colour only where it is asked for.

/// The most characters of a line.
pub(crate) const WIDTH: usize = 80;

/// How a stretch of text stands out where colour is on.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(crate) enum Tone {
    Plain,
    Strong,
    Faint,
    Warning,
}

impl Tone {
    const fn code(self) -> &'static str {
        match self {
            Self::Plain => "",
            Self::Strong => "\u{1b}[1m",
            Self::Faint => "\u{1b}[2m",
            Self::Warning => "\u{1b}[33m",
        }
    }
}

/// A page being written.
pub(crate) struct Page {
    text: String,
    colour: bool,
}

/// Breaks a text into lines of at most `width` characters, at spaces; a longer word stands alone,
/// cut where it is longer than a line.
pub(crate) fn broken(text: &str, width: usize) -> Vec<String> {
    let (mut lines, mut line, mut length) = (Vec::new(), String::new(), 0_usize);
    for word in text.split_whitespace() {
        let mut rest: Vec<char> = word.chars().collect();
        if length > 0 && length + 1 + rest.len() <= width {
            line.push(' ');
            line.extend(&rest);
            length += 1 + rest.len();
            continue;
        }
        if length > 0 {
            lines.push(std::mem::take(&mut line));
        }
        while rest.len() > width {
            let tail = rest.split_off(width);
            lines.push(rest.iter().collect());
            rest = tail;
        }
        length = rest.len();
        line.extend(rest);
    }
    if length > 0 {
        lines.push(line);
    }
    lines
}

impl Page {
    pub(crate) const fn new(colour: bool) -> Self {
        Self {
            text: String::new(),
            colour,
        }
    }

    /// An empty line.
    pub(crate) fn gap(&mut self) {
        self.text.push('\n');
    }

    /// A line as it stands, with the spaces that set its parts apart.
    pub(crate) fn row(&mut self, text: &str, tone: Tone) {
        self.line(0, text, tone);
    }

    fn line(&mut self, indent: usize, text: &str, tone: Tone) {
        self.text.push_str(&" ".repeat(indent));
        if self.colour && tone != Tone::Plain {
            self.text.push_str(tone.code());
            self.text.push_str(text);
            self.text.push_str("\u{1b}[0m");
        } else {
            self.text.push_str(text);
        }
        self.text.push('\n');
    }

    /// A text, wrapped, every line indented.
    pub(crate) fn say(&mut self, indent: usize, text: &str, tone: Tone) {
        for line in broken(text, WIDTH.saturating_sub(indent).max(1)) {
            self.line(indent, &line, tone);
        }
    }

    /// A text, wrapped, that hangs from a mark.
    pub(crate) fn hang(&mut self, indent: usize, mark: &str, text: &str, tone: Tone) {
        let inner = indent + mark.chars().count();
        for (at, line) in broken(text, WIDTH.saturating_sub(inner).max(1))
            .iter()
            .enumerate()
        {
            if at == 0 {
                self.line(indent, &format!("{mark}{line}"), tone);
            } else {
                self.line(inner, line, tone);
            }
        }
    }

    /// Two texts on one line, the second at the right margin or at `column`; on lines of their own
    /// where they do not fit on one.
    pub(crate) fn pair(
        &mut self,
        indent: usize,
        left: &str,
        column: usize,
        right: &str,
        tone: Tone,
    ) {
        let (here, there) = (indent + left.chars().count(), right.chars().count());
        if here < column && column + there <= WIDTH {
            let fill = " ".repeat(column - here);
            self.text.push_str(&" ".repeat(indent));
            let coloured = if self.colour && tone != Tone::Plain {
                format!("{}{left}\u{1b}[0m", tone.code())
            } else {
                left.to_owned()
            };
            self.text.push_str(&format!("{coloured}{fill}{right}\n"));
        } else {
            self.say(indent, left, tone);
            // What fits on one line keeps the spaces that set its parts apart.
            if there <= WIDTH {
                self.line(column.min(WIDTH - there), right, Tone::Plain);
            } else {
                self.say(0, right, Tone::Plain);
            }
        }
    }

    pub(crate) fn done(self) -> String {
        self.text
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn keeps_to_the_width() {
        let mut page = Page::new(false);
        page.hang(4, "why: ", &"word ".repeat(60), Tone::Plain);
        page.say(2, &"x".repeat(300), Tone::Strong);
        page.pair(2, &"left ".repeat(10), 44, "right", Tone::Strong);
        let text = page.done();
        assert!(
            text.lines().all(|line| line.chars().count() <= WIDTH),
            "{text}"
        );
        assert_eq!(text.matches("word").count(), 60);
        assert_eq!(text.matches('x').count(), 300);
    }

    #[test]
    fn colours_only_where_asked() {
        for colour in [true, false] {
            let mut page = Page::new(colour);
            page.say(0, "a", Tone::Strong);
            page.pair(0, "b", 10, "c", Tone::Faint);
            assert_eq!(page.done().contains('\u{1b}'), colour);
        }
    }
}
