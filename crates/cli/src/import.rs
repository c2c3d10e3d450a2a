//! `import`: official food-composition files into the folder's own record, with everything that could not be read.

use std::fs;
use std::io::{self, Read};
use std::path::{Path, PathBuf};

use clap::Args;
use larderwright_app::home::KeptFoods;
use larderwright_intake::{Composition, Part, SourceFile, read_composition};
use larderwright_records::Problem;
use serde_json::json;

use crate::args::Format;
use crate::care;
use crate::failure::Failure;
use crate::memory::{Memory, MemoryArgs};

/// What tells a folder that `export` wrote from files of food composition.
const MANIFEST: &str = "manifest.json";

/// What to import.
#[derive(Debug, Args)]
pub(crate) struct ImportArgs {
    /// Files, or folders that hold them: USDA FoodData Central as CSV (SR Legacy, Foundation: food.csv, nutrient.csv,
    /// food_nutrient.csv, food_portion.csv, measure_unit.csv), or the USDA Standard Reference as ASCII (FOOD_DES.txt,
    /// NUT_DATA.txt, WEIGHT.txt); or one folder that `export` wrote, into a household's data that is still empty.
    #[arg(required = true, value_name = "FILE")]
    pub(crate) files: Vec<PathBuf>,
    /// Which household.
    #[command(flatten)]
    pub(crate) memory: MemoryArgs,
}

/// More than any of the published files that are read here.
const BYTES_MAX: u64 = 1 << 30;

/// As much of a file as tells what it is.
const FIRST_BYTES: u64 = 4096;

/// Reads the files, keeps the foods and tells how many, with every problem.
pub(crate) fn run(args: &ImportArgs, format: Format) -> Result<String, Failure> {
    if let [folder] = args.files.as_slice()
        && folder.join(MANIFEST).is_file()
    {
        let (text, value) = care::import(folder, &args.memory)?;
        return Ok(match format {
            Format::Text => text + "\n",
            Format::Json => format!("{value:#}\n"),
        });
    }
    let mut texts = Vec::new();
    for path in sources(&args.files)? {
        texts.push((path.display().to_string(), text_of(&path)?));
    }
    let files: Vec<SourceFile<'_>> = texts
        .iter()
        .map(|(name, text)| SourceFile { name, text })
        .collect();
    let mut read = read_composition(&files);
    if read.foods.is_empty() {
        return Err(nothing_read(&args.files, read));
    }
    let memory = Memory::make(&args.memory.folder()?, args.memory.clock)?;
    let foods = std::mem::take(&mut read.foods);
    let kept = memory.wait(memory.home.keep_foods(foods))?;
    Ok(match format {
        Format::Text => told(&kept, &read),
        Format::Json => recorded(&kept, &read),
    })
}

/// The files named, and those in the folders named that are part of a known layout, by name.
fn sources(named: &[PathBuf]) -> Result<Vec<PathBuf>, Failure> {
    let mut files = Vec::new();
    for path in named {
        let about = fs::metadata(path).map_err(|error| unreadable(path, &error))?;
        if !about.is_dir() {
            files.push(path.clone());
            continue;
        }
        let entries = fs::read_dir(path).map_err(|error| unreadable(path, &error))?;
        let mut found = Vec::new();
        for entry in entries {
            let file = entry.map_err(|error| unreadable(path, &error))?.path();
            if file.is_file() && is_part(&file)? {
                found.push(file);
            }
        }
        if found.is_empty() {
            return Err(Failure::usage(
                format!("there is no file of food composition in `{}`", path.display()),
                "Name the folder in which food.csv or FOOD_DES.txt lies.",
            ));
        }
        found.sort();
        files.extend(found);
    }
    Ok(files)
}

fn is_part(path: &Path) -> Result<bool, Failure> {
    let mut first = Vec::new();
    let file = fs::File::open(path).map_err(|error| unreadable(path, &error))?;
    let read = file.take(FIRST_BYTES).read_to_end(&mut first);
    read.map_err(|error| unreadable(path, &error))?;
    let name = path.display().to_string();
    Ok(Part::of(&name, &String::from_utf8_lossy(&first)).is_some())
}

fn text_of(path: &Path) -> Result<String, Failure> {
    let size = fs::metadata(path)
        .map_err(|error| unreadable(path, &error))?
        .len();
    if size > BYTES_MAX {
        let help = "Import the SR Legacy and Foundation downloads one by one instead of the full one.";
        return Err(Failure::usage(format!("`{}` is too large", path.display()), help));
    }
    let bytes = fs::read(path).map_err(|error| unreadable(path, &error))?;
    Ok(decode(bytes))
}

/// UTF-8 where it is, else Latin-1, in which the Standard Reference is written and every byte is a letter.
fn decode(bytes: Vec<u8>) -> String {
    let latin = |bytes: &[u8]| bytes.iter().map(|byte| char::from(*byte)).collect();
    String::from_utf8(bytes).unwrap_or_else(|error| latin(error.as_bytes()))
}

fn unreadable(path: &Path, error: &io::Error) -> Failure {
    let path = path.display();
    match error.kind() {
        io::ErrorKind::NotFound => {
            let help = "Name files of food composition, or the folder they lie in.";
            Failure::usage(format!("there is no file `{path}`"), help)
        }
        _ => Failure::Fault(format!("`{path}` cannot be read: {error}")),
    }
}

/// The names of the files stand where a household's problems name their field.
fn nothing_read(named: &[PathBuf], read: Composition) -> Failure {
    let names: Vec<String> = named.iter().map(|path| path.display().to_string()).collect();
    let problems = read.problems.into_iter().map(|problem| Problem {
        line: problem.line,
        field: problem.file,
        message: problem.message,
        help: problem.help,
    });
    let mut problems: Vec<Problem> = problems.collect();
    if problems.is_empty() {
        problems.push(Problem {
            line: 0,
            field: String::new(),
            message: "there is no food of a kind that is read".into(),
            help: "SR Legacy foods, Foundation foods and the Standard Reference are read.".into(),
        });
    }
    let file = names.join(", ");
    Failure::Input { file, problems }
}

fn told(kept: &KeptFoods, read: &Composition) -> String {
    let mut lines = vec![
        format!(
            "Kept {}: {} new, {} read again; the household's own table holds {}.",
            foods(kept.merged.added + kept.merged.renewed),
            kept.merged.added,
            kept.merged.renewed,
            foods(kept.foods)
        ),
        "None of these files names allergens: they are not known.".to_owned(),
    ];
    if read.left_out > 0 {
        lines.push(format!(
            "Left out: {} foods of other kinds (samples, brands, survey recipes).",
            read.left_out
        ));
    }
    match read.problems.len() {
        0 => {}
        1 => lines.push("One thing could not be read:".to_owned()),
        count => lines.push(format!("{count} things could not be read:")),
    }
    lines.extend(
        read.problems
            .iter()
            .map(|problem| format!("  {problem}").replace("\n", "\n  ")),
    );
    lines.join("\n") + "\n"
}

fn foods(count: usize) -> String {
    if count == 1 {
        "1 food".to_owned()
    } else {
        format!("{count} foods")
    }
}

fn recorded(kept: &KeptFoods, read: &Composition) -> String {
    let problem = |it: &larderwright_intake::Problem| json!({ "file": it.file, "line": it.line, "message": it.message, "help": it.help });
    let answer = json!({
        "status": "imported",
        "added": kept.merged.added,
        "renewed": kept.merged.renewed,
        "foods": kept.foods,
        "left_out": read.left_out,
        "problems": read.problems.iter().map(problem).collect::<Vec<_>>(),
    });
    format!("{answer:#}\n")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bytes_that_are_no_utf8_are_latin() {
        assert_eq!(decode(vec![b'j', 0xf1, b'o']), "jño");
        assert_eq!(decode("jño".as_bytes().to_vec()), "jño");
    }
}
