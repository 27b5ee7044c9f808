//! Reading a folder of rule files. Nothing else in the crate touches the file system.

use std::fs::{self, File};
use std::io::{self, Read};
use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::limits::{Limits, Lost, too_large, too_large_together, too_many_files};
use crate::base::{Code, Diagnostic, Place};

/// How many folders may stand inside each other, the first one not counted.
const DEEPEST: usize = 8;

/// How many entries of any kind are looked at, so that the wrong folder is given up soon.
const MOST_ENTRIES: usize = 20_000;

/// Reads the rule files in the folder `dir` and in the folders inside it, up to eight deep: all
/// whose names end in `.yaml` or `.yml`. The answer has each file's path, relative to `dir` and
/// with `/` between its parts, and its text, sorted by path.
///
/// Other files are passed over, and so is what has a name that starts with a dot. Links are not
/// followed: one that is named like a rule file, or leads to a folder, is a problem. What could not
/// be read, is not UTF-8 or goes beyond `limits` is handed back with the texts of the others; the
/// folder itself is called `.` in it.
pub fn read_folder(dir: &Path, limits: &Limits) -> Folder {
    let mut walk = Walk {
        limits,
        entries: 0,
        files: Vec::new(),
        lost: Vec::new(),
    };
    walk.folder(dir);
    walk.files.sort();
    let texts = walk.texts();
    let mut lost = walk.lost;
    lost.sort_by(|one, other| one.problem.cmp(&other.problem));
    Folder { texts, lost }
}

/// What a folder holds.
#[derive(Debug, Default)]
pub struct Folder {
    /// Paths and texts, sorted by path.
    pub texts: Vec<(Arc<str>, String)>,
    /// What is without a text, sorted by place.
    pub lost: Vec<Lost>,
}

struct Walk<'a> {
    limits: &'a Limits,
    entries: usize,
    files: Vec<(Arc<str>, PathBuf)>,
    lost: Vec<Lost>,
}

impl Walk<'_> {
    fn problem(&mut self, code: Code, name: &str, what: impl Into<String>, help: &str) {
        let place = Place::start_of(&Arc::from(name));
        self.unread(Diagnostic::new(code, place, what, help));
    }

    fn unread(&mut self, problem: Diagnostic) {
        self.lost.push(Lost::unread(problem));
    }

    fn failed(&mut self, name: &str, error: &io::Error) {
        let what = format!("this could not be read: {error}");
        let help = "see that it is there and that you may read it";
        self.problem(Code::UnreadFile, name, what, help);
    }

    /// Finds the rule files, without a function that calls itself.
    fn folder(&mut self, dir: &Path) {
        let mut open = vec![(String::new(), dir.to_path_buf(), 0_usize)];
        while let Some((name, path, depth)) = open.pop() {
            let shown = if name.is_empty() {
                dir.display().to_string()
            } else {
                name.clone()
            };
            let entries = match fs::read_dir(&path) {
                Ok(entries) => entries,
                Err(error) => {
                    self.failed(&shown, &error);
                    continue;
                }
            };
            for entry in entries {
                self.entries += 1;
                if self.entries > MOST_ENTRIES {
                    // Named after the whole: the order of entries is the file system's own.
                    self.problem(
                        Code::TooManyFiles,
                        ".",
                        format!("there are more than {MOST_ENTRIES} files and folders in here"),
                        "point to the folder that holds the rule files and little else",
                    );
                    return;
                }
                match entry {
                    Ok(entry) => {
                        if let Some(inner) = self.entry(&name, &entry) {
                            if depth < DEEPEST {
                                open.push((inner, entry.path(), depth + 1));
                            } else {
                                let what = format!("more than {DEEPEST} folders inside each other");
                                self.problem(Code::TooDeep, &inner, what, "move this folder up");
                            }
                        }
                    }
                    Err(error) => self.failed(&shown, &error),
                }
            }
        }
    }

    /// Notes a rule file; the name of a folder that is to be looked into is handed back.
    fn entry(&mut self, parent: &str, entry: &fs::DirEntry) -> Option<String> {
        let raw = entry.file_name();
        let last = raw.to_string_lossy();
        if last.starts_with('.') {
            return None;
        }
        let name = if parent.is_empty() {
            last.to_string()
        } else {
            format!("{parent}/{last}")
        };
        let kind = match entry.file_type() {
            Ok(kind) => kind,
            Err(error) => {
                self.failed(&name, &error);
                return None;
            }
        };
        let ending = Path::new(&raw).extension();
        let rules = ending.is_some_and(|e| e == "yaml" || e == "yml");
        if kind.is_symlink() {
            if rules || entry.path().is_dir() {
                self.problem(
                    Code::UnreadFile,
                    &name,
                    "this is a link, and links are not followed",
                    "put the file or folder itself here",
                );
            }
        } else if kind.is_dir() {
            return Some(name);
        } else if rules && raw.to_str().is_none() {
            self.problem(
                Code::NotUtf8,
                &name,
                "the file's name is not UTF-8",
                "rename the file",
            );
        } else if rules && kind.is_file() {
            self.files.push((Arc::from(name), entry.path()));
        } else if rules {
            let help = "put a plain file here";
            self.problem(Code::UnreadFile, &name, "this is not a plain file", help);
        }
        None
    }

    /// The texts of the files found, in order.
    fn texts(&mut self) -> Vec<(Arc<str>, String)> {
        let limits = self.limits;
        let files = std::mem::take(&mut self.files);
        if let Some((name, _)) = files.get(limits.files()) {
            self.unread(too_many_files(name, limits));
            return Vec::new();
        }
        let mut texts = Vec::new();
        let mut total = 0_usize;
        for (name, path) in files {
            let bytes = match read_at_most(&path, limits.bytes_per_file()) {
                Ok(Some(bytes)) => bytes,
                Ok(None) => {
                    self.unread(too_large(&name, limits));
                    continue;
                }
                Err(error) => {
                    self.failed(&name, &error);
                    continue;
                }
            };
            total = total.saturating_add(bytes.len());
            if total > limits.bytes_total() {
                self.unread(too_large_together(&name, limits));
                break;
            }
            match String::from_utf8(bytes) {
                Ok(text) => texts.push((name, text)),
                Err(error) => {
                    let good = error.utf8_error().valid_up_to();
                    self.lost.push(Lost::garbled(&name, error.as_bytes(), good));
                }
            }
        }
        texts
    }
}

/// The file's bytes, or `None` if it has more than `most`. The file may grow while it is read, so
/// its stated size decides nothing.
fn read_at_most(path: &Path, most: usize) -> io::Result<Option<Vec<u8>>> {
    let limit = u64::try_from(most).unwrap_or(u64::MAX).saturating_add(1);
    let mut bytes = Vec::new();
    File::open(path)?.take(limit).read_to_end(&mut bytes)?;
    Ok((bytes.len() <= most).then_some(bytes))
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    /// A folder of this test's own, taken away at the end.
    struct Made(PathBuf);

    impl Made {
        fn new(name: &str) -> Self {
            let path = std::env::temp_dir().join(format!("folder-{name}-{}", std::process::id()));
            let _ = fs::remove_dir_all(&path);
            fs::create_dir_all(&path).unwrap();
            Self(path)
        }

        fn with(self, name: &str, bytes: &[u8]) -> Self {
            let path = self.0.join(name);
            fs::create_dir_all(path.parent().unwrap()).unwrap();
            fs::write(path, bytes).unwrap();
            self
        }

        fn names(&self, limits: &Limits) -> Vec<String> {
            let held = read_folder(&self.0, limits);
            let texts = held.texts.iter();
            texts.map(|(name, _)| name.to_string()).collect()
        }

        fn problems(&self, limits: &Limits) -> Vec<(Code, String)> {
            let held = read_folder(&self.0, limits);
            let found = held.lost.iter().map(|lost| &lost.problem);
            found
                .inspect(|d| assert!(!d.help.is_empty() && !d.what.is_empty()))
                .map(|d| (d.code, d.place.to_string()))
                .collect()
        }
    }

    impl Drop for Made {
        fn drop(&mut self) {
            let _ = fs::remove_dir_all(&self.0);
        }
    }

    #[test]
    fn reads_rule_files_sorted_by_path() {
        let folder = Made::new("sorted")
            .with("b.yaml", b"b: 1")
            .with("a/z.yml", b"z: 1")
            .with("a/b/c.yaml", b"c: 1")
            .with("a.yaml", "ü: 1".as_bytes())
            .with("readme.md", b"\xff")
            .with(".hidden.yaml", b"\xff")
            .with(".git/x.yaml", b"\xff");
        let names = folder.names(&Limits::default());
        assert_eq!(names, ["a.yaml", "a/b/c.yaml", "a/z.yml", "b.yaml"]);
        let held = read_folder(&folder.0, &Limits::default());
        assert_eq!(held.texts.first().unwrap().1, "ü: 1");
        assert!(held.lost.is_empty());
    }

    #[test]
    fn says_where_each_file_is_lost_and_reads_the_others() {
        let folder = Made::new("utf8")
            .with("a.yaml", b"a: 1\n\xc3\xbc: \xff")
            .with("b.yaml", b"\xff")
            .with("c.yaml", b"c: 123456789")
            .with("d.yaml", b"d: 1");
        let limits = Limits::default().with_bytes_per_file(11);
        let wanted = [
            (Code::NotUtf8, "a.yaml:2:4".to_string()),
            (Code::NotUtf8, "b.yaml:1:1".to_string()),
            (Code::TooLarge, "c.yaml:1:1".to_string()),
        ];
        assert_eq!(folder.problems(&limits), wanted);
        assert_eq!(folder.names(&limits), ["d.yaml"]);
        // Of what is no text there is something, of what was not read there is nothing.
        let held = read_folder(&folder.0, &limits);
        let known: Vec<bool> = held.lost.iter().map(|lost| lost.lossy.is_some()).collect();
        assert_eq!(known, [true, true, false]);
    }

    #[test]
    fn keeps_to_the_limits() {
        let folder = Made::new("limits")
            .with("a.yaml", b"a: 1")
            .with("b.yaml", b"b: 22");
        let limits = Limits::default();
        let large = (Code::TooLarge, "b.yaml:1:1".to_string());
        for limits in [limits.with_bytes_per_file(4), limits.with_bytes_total(8)] {
            assert_eq!(folder.problems(&limits), std::slice::from_ref(&large));
        }
        let many = (Code::TooManyFiles, "b.yaml:1:1".to_string());
        assert_eq!(folder.problems(&limits.with_files(1)), [many]);
        assert_eq!(folder.names(&limits.with_bytes_total(9)).len(), 2);
    }

    #[test]
    fn goes_down_eight_folders_and_no_further() {
        let folder = Made::new("deep").with("1/2/3/4/5/6/7/8/a.yaml", b"a: 1");
        assert_eq!(folder.names(&Limits::default()), ["1/2/3/4/5/6/7/8/a.yaml"]);
        let folder = folder.with("1/2/3/4/5/6/7/8/9/a.yaml", b"a: 1");
        let wanted = [(Code::TooDeep, "1/2/3/4/5/6/7/8/9:1:1".to_string())];
        assert_eq!(folder.problems(&Limits::default()), wanted);
    }

    #[test]
    fn a_folder_that_is_not_there_is_a_problem() {
        let folder = Made::new("none");
        let nowhere = folder.0.join("nowhere");
        let held = read_folder(&nowhere, &Limits::default());
        let [one] = held.lost.as_slice() else {
            unreachable!("{held:?}")
        };
        assert_eq!(
            (one.problem.code, one.problem.place.to_string()),
            (Code::UnreadFile, format!("{}:1:1", nowhere.display()))
        );
    }

    #[cfg(unix)]
    #[test]
    fn follows_no_links() {
        use std::os::unix::fs::symlink;
        let outside = Made::new("outside").with("a.yaml", b"a: 1");
        let folder = Made::new("links").with("b.yaml", b"b: 1");
        symlink(outside.0.join("a.yaml"), folder.0.join("a.yaml")).unwrap();
        symlink(&outside.0, folder.0.join("inner")).unwrap();
        symlink(outside.0.join("a.yaml"), folder.0.join("notes.txt")).unwrap();
        let wanted = [
            (Code::UnreadFile, "a.yaml:1:1".to_string()),
            (Code::UnreadFile, "inner:1:1".to_string()),
        ];
        assert_eq!(folder.problems(&Limits::default()), wanted);
    }
}
