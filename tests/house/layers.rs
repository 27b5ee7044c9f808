//! Who may know whom.

use super::source::{Source, root, sources};

/// From the lowest up: a file imports from its own layer or lower ones.
const LAYERS: [&str; 9] = [
    "base",
    "rules",
    "graph",
    "infer",
    "track",
    "plan",
    "explain",
    "report",
    "knowledge",
];

/// Modules beside the layers, and why they may be imported, and by whom alone.
const BESIDE: [(&str, &str, &str); 1] = [(
    "builtin",
    "src/knowledge/mod.rs",
    "the built-in method as text: it imports nothing",
)];

fn layer(name: &str) -> Option<usize> {
    LAYERS.iter().position(|layer| *layer == name)
}

/// First names of the paths that begin with `crate::`, groups taken apart.
fn imports(code: &str) -> Vec<String> {
    let mut all = Vec::new();
    for rest in code.split("crate::").skip(1) {
        let name = |text: &str| {
            text.chars()
                .take_while(|c| c.is_alphanumeric() || *c == '_')
                .collect::<String>()
        };
        let Some(group) = rest.strip_prefix('{') else {
            all.push(name(rest));
            continue;
        };
        let mut depth = 0;
        let mut first = true;
        for (at, c) in group.char_indices() {
            match c {
                '{' => depth += 1,
                '}' if depth == 0 => break,
                '}' => depth -= 1,
                ',' if depth == 0 => first = true,
                c if depth == 0 && first && c.is_alphabetic() => {
                    all.push(name(&group[at..]));
                    first = false;
                }
                _ => {}
            }
        }
    }
    all
}

#[test]
fn a_group_of_paths_is_taken_apart() {
    let code = "use crate::{base::{At, Place}, plan::Week}; fn f(a: crate::rules::X) { pub(crate) fn g() {} }";
    assert_eq!(imports(code), ["base", "plan", "rules"]);
}

/// The folder or file under `src/` that a source belongs to.
fn top(source: &Source) -> &str {
    let top = source.path.split('/').nth(1).unwrap();
    top.trim_end_matches(".rs")
}

#[test]
fn a_file_imports_from_its_own_layer_or_lower_ones() {
    let (mut wrong, mut seen) = (Vec::new(), 0);
    for source in sources() {
        let top = top(&source);
        for name in imports(&source.code) {
            seen += 1;
            let allowed = match (layer(top), layer(&name)) {
                (Some(own), Some(other)) => other <= own,
                _ => BESIDE
                    .iter()
                    .any(|(module, by, _)| *module == name && *by == source.path),
            };
            if !allowed {
                wrong.push(format!("{} imports crate::{name}", source.path));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert!(seen > 300, "only {seen} paths");
}

/// Every file of `src` belongs to a layer, and the contributor guide names the layers in this order.
#[test]
fn every_file_has_a_layer_and_the_guide_names_it() {
    for source in sources() {
        let top = top(&source);
        let known = layer(top).is_some()
            || BESIDE.iter().any(|(module, ..)| *module == top)
            || top == "lib";
        assert!(known, "{} is of no layer", source.path);
    }
    let guide = std::fs::read_to_string(root().join("DEVELOPERS.md")).unwrap();
    let places: Vec<usize> = LAYERS
        .iter()
        .map(|layer| guide.find(&format!("| `src/{layer}/` |")).unwrap())
        .collect();
    assert!(
        places.is_sorted_by(|lower, upper| lower > upper),
        "{places:?}"
    );
}

/// Examples stand above all layers and know the crate by its public name alone.
#[test]
fn examples_use_the_public_surface() {
    let mut paths = Vec::new();
    super::source::rust_files(&root().join("examples"), &mut paths);
    let texts: Vec<String> = paths
        .iter()
        .map(|path| std::fs::read_to_string(path).unwrap())
        .collect();
    assert!(texts.iter().any(|text| text.contains("use drillwright::")));
    for (path, text) in paths.iter().zip(&texts) {
        assert!(!text.contains("#[path"), "{}", path.display());
        assert!(!text.contains("../src"), "{}", path.display());
    }
}
