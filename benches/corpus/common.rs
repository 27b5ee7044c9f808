//! What the benches of the corpus share.

use std::error::Error;
use std::fs;
use std::path::{Path, PathBuf};
use std::time::Duration;

/// The number that the command line begins with, if it does, and the parts of names behind it.
pub fn words() -> (Option<u64>, Vec<String>) {
    // Cargo itself passes `--bench`.
    let words = std::env::args().skip(1);
    let mut words: Vec<String> = words.filter(|word| !word.starts_with("--")).collect();
    let number = words.first().and_then(|word| word.parse().ok());
    if number.is_some() {
        words.remove(0);
    }
    (number, words)
}

/// Whether a case is asked for: one with any of these parts in its name, all where there are none.
pub fn is_asked(words: &[String], name: &str) -> bool {
    words.is_empty() || words.iter().any(|word| name.contains(word.as_str()))
}

/// Names and texts of the YAML files of a folder.
pub fn texts(folder: &str) -> Result<Vec<(String, String)>, Box<dyn Error>> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join(folder);
    let mut files: Vec<PathBuf> = fs::read_dir(folder)?
        .map(|entry| entry.map(|entry| entry.path()))
        .collect::<Result<_, _>>()?;
    files.retain(|file| file.extension().is_some_and(|end| end == "yaml"));
    files.sort();
    let read = |file: PathBuf| {
        let name = file.file_stem().unwrap_or_default().to_string_lossy();
        Ok((name.into_owned(), fs::read_to_string(&file)?))
    };
    files.into_iter().map(read).collect()
}

pub fn ms(time: Duration) -> f64 {
    time.as_secs_f64() * 1e3
}
