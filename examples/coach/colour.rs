//! Whether an output is coloured.

use std::ffi::OsStr;

/// Only on a terminal, and never where `NO_COLOR` holds anything.
pub fn wanted(terminal: bool, no_color: Option<&OsStr>) -> bool {
    terminal && no_color.is_none_or(OsStr::is_empty)
}
