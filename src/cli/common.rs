//! What every command does first: read the case, refuse it or make it ready.

use super::files::{Outputs, folder_of, shown};
use super::recorded::read_record;
use super::{CaseArguments, Failure, terminal};
use crate::air::ZERO_CELSIUS;
use crate::case::document::{LARGEST, Node};
use crate::case::render::render;
use crate::case::{
    Case, Diagnostic, Diagnostics, FaultPlace, Loaded, Warning, load, overrides, syntax, tables as t,
};
use crate::output::text::Depth;
use crate::point::Model;
use crate::point::budget::{Budget, seconds};
use crate::point::conditions::{ConditionUnsolved, solved_within};
use crate::point::result::Condition;
use crate::study::document::{self, LimitTyped, Report};
use crate::study::doubt::work_of_a_draw;
use crate::study::lap;
use crate::study::size::NotSized;
use sha2::{Digest, Sha256};
use std::fmt::Write as _;
use std::io::Read;
use std::path::{Path, PathBuf};
use std::sync::OnceLock;

/// How much a screen shows.
#[derive(Debug, clap::Args)]
pub(super) struct DepthArguments {
    /// Show the whole answer: side by side, what was read, what is assumed, every warning
    #[arg(long)]
    detail: bool,
    /// Show every row, formula and source as well
    #[arg(long)]
    all: bool,
}

impl DepthArguments {
    pub fn depth(&self) -> Depth {
        match (self.detail, self.all) {
            (_, true) => Depth::All,
            (true, false) => Depth::Detail,
            (false, false) => Depth::Short,
        }
    }
}

/// A case ready to be studied.
pub(super) struct Ready {
    pub path: PathBuf,
    pub source: String,
    pub set: Vec<(String, String)>,
    pub loaded: Loaded,
    pub model: Model,
    sha256: String,
    unanswered: OnceLock<Vec<ConditionUnsolved>>,
    work: OnceLock<u64>,
    stints: OnceLock<Vec<Warning>>,
}

/// Largest recorded run that is looked at by commands that do not follow it (bytes).
const LOOKED_AT: u64 = 20_000_000;

impl Ready {
    /// Reads the case that the arguments name.
    pub fn read(arguments: &CaseArguments) -> Result<Ready, Failure> {
        let path = &arguments.case;
        let source = read_text(path)?;
        let name = path.display().to_string();
        let refuse = |faults: &Diagnostics| Failure::Refused(render(faults.list(), &name, &source));
        let mut faults = Diagnostics::new();
        let mut set = Vec::new();
        for text in &arguments.set {
            match overrides::split(text) {
                Ok(pair) => set.push(pair),
                Err(fault) => faults.push(fault),
            }
        }
        let loaded = match load(&source, &set) {
            Ok(loaded) if faults.is_empty() => loaded,
            Ok(_) => return Err(refuse(&faults)),
            Err(found) => {
                found.into_iter().for_each(|fault| faults.push(fault));
                return Err(refuse(&faults));
            }
        };
        let model = Model::new(&loaded.case).map_err(|faults| refuse(&faults))?;
        let digest = Sha256::digest(source.as_bytes());
        let sha256 = digest.iter().fold(String::new(), |mut text, byte| {
            let _ = write!(text, "{byte:02x}");
            text
        });
        Ok(Ready {
            path: path.clone(),
            source,
            set,
            loaded,
            model,
            sha256,
            unanswered: OnceLock::new(),
            work: OnceLock::new(),
            stints: OnceLock::new(),
        })
    }

    pub fn case(&self) -> &Case {
        &self.loaded.case
    }

    /// Digest of the case file.
    pub fn sha256(&self) -> &str {
        &self.sha256
    }

    /// The case file and the recorded runs that it names: what no run may write over.
    pub fn files_read(&self) -> Vec<PathBuf> {
        let traces = self.case().stints.iter().filter_map(|stint| stint.values.text(&t::TRACE));
        let folder = folder_of(&self.path);
        std::iter::once(self.path.clone()).chain(traces.map(|trace| folder.join(trace))).collect()
    }

    /// Files that a run writes, tried before its work starts: into a folder, by default that of the case.
    pub fn outputs(&self, into: Option<&Path>) -> Result<Outputs, Failure> {
        Outputs::of(&self.path, self.files_read(), into)
    }

    /// What the case is called on the command line.
    pub fn file_name(&self) -> &str {
        self.path.to_str().unwrap_or("CASE")
    }

    /// Whether the case says which openings are free.
    pub fn is_sizable(&self) -> bool {
        self.case().size.is_some()
    }

    /// A refusal of the case as a whole.
    pub fn refuse(&self, code: &'static str, message: &str, what_to_do: &str) -> Failure {
        self.refuse_by(&Diagnostic::new(code, message, FaultPlace::Whole, what_to_do))
    }

    fn refuse_by(&self, fault: &Diagnostic) -> Failure {
        let faults = std::slice::from_ref(fault);
        Failure::Refused(render(faults, &self.path.display().to_string(), &self.source))
    }

    /// Why its openings could not be sized.
    pub fn not_sized(&self, error: &NotSized) -> Failure {
        match error.fault() {
            Some(fault) => self.refuse_by(&fault),
            None => Failure::Failed(error.to_string()),
        }
    }

    /// Every condition of the case that has an answer; the others are told with the warnings.
    pub fn conditions(&self) -> Result<Vec<Condition>, Failure> {
        let found = solved_within(self.case(), &self.model, Budget::seconds(seconds::CHECK));
        match found.unsolved.first() {
            Some(first) if found.conditions.is_empty() => Err(Failure::Failed(first.to_string())),
            _ => {
                let _ = self.unanswered.set(found.unsolved);
                let _ = self.work.set(found.work_of_solutions);
                Ok(found.conditions)
            }
        }
    }

    /// Work of one draw of the guesses, about.
    pub fn work_of_a_draw(&self) -> u64 {
        work_of_a_draw(self.case(), &self.model, self.work.get().copied().unwrap_or(0))
    }

    /// Conditions without an answer, once they were looked for.
    pub fn unanswered(&self) -> &[ConditionUnsolved] {
        self.unanswered.get().map_or(&[], Vec::as_slice)
    }

    /// What is wrong with the stints of the case, and what in them is hard to believe: told whichever question is asked.
    fn stint_warnings(&self) -> &[Warning] {
        self.stints.get_or_init(|| {
            let mut found = Vec::new();
            for stint in &self.case().stints {
                let long = stint.values.text(&t::TRACE).and_then(|trace| {
                    std::fs::metadata(folder_of(&self.path).join(trace)).ok().map(|metadata| metadata.len())
                });
                if long.is_some_and(|length| length > LOOKED_AT) {
                    continue;
                }
                let faulty = |why: String| Warning {
                    code: "stint-faulty",
                    message: format!("this stint cannot be run: {why}"),
                    place: Some(stint.values.address.clone()),
                };
                match read_record(&self.path, &stint.values) {
                    Err(unread) => found.push(faulty(unread.in_short())),
                    Ok(record) => {
                        let (faults, warnings) = lap::looked_at(self.case(), &self.model, stint, record);
                        let told = |fault: &Diagnostic| format!("{}; {}", fault.message, fault.what_to_do);
                        found.extend(faults.list().iter().map(|fault| faulty(told(fault))));
                        found.extend(warnings);
                    }
                }
            }
            found
        })
    }

    /// A report on the case, with its conditions where they are given.
    pub fn report(&self, case: &Case, model: &Model, conditions: Vec<Condition>) -> Report {
        let mut warnings = warnings(case, model, &conditions);
        if !conditions.is_empty() {
            let lacks = |name: &str| conditions.iter().all(|condition| condition.name != name);
            let lacking = self.unanswered().iter().filter(|unsolved| lacks(&unsolved.condition));
            warnings.extend(lacking.map(ConditionUnsolved::warning));
        }
        let mut report = document::report(case, self.sha256.clone(), &self.set, warnings);
        for warning in self.stint_warnings() {
            if !report.warnings.contains(warning) {
                report.warnings.push(warning.clone());
            }
        }
        report.limits = limits(&self.loaded.document, case);
        report.worst = (!conditions.is_empty()).then(|| crate::point::conditions::worst(&conditions));
        report.conditions = conditions;
        report
    }
}

/// The limits of the parts as they were typed.
fn limits(document: &Node, case: &Case) -> Vec<LimitTyped> {
    let typed = |part: &str| document.get("part")?.get(part)?.get(t::LIMIT.name)?.text().map(str::to_string);
    let each = case.parts.iter().filter_map(|part| {
        let view = case.view(&part.values);
        let off = view.number(&t::HOTTEST_ABOVE_MEAN).unwrap_or(0.0);
        let mean = view.number(&t::LIMIT)? - off - ZERO_CELSIUS;
        Some(LimitTyped { part: part.name.clone(), typed: typed(&part.name)?, off_K: off, mean_C: mean })
    });
    each.collect()
}

fn warnings(case: &Case, model: &Model, conditions: &[Condition]) -> Vec<Warning> {
    let mut list = model.warnings.clone();
    list.extend(crate::warnings::of_case(case, model));
    list.extend(crate::warnings::of_conditions(case, model, conditions));
    list
}

/// Reads a text file, refused unread where it is too large.
pub(super) fn read_text(path: &Path) -> Result<String, Failure> {
    let refuse = |why: String, way_out: &str| {
        Failure::refused("file-unreadable", &format!("cannot read {}: {why}", shown(path)), way_out)
    };
    let mut file = std::fs::File::open(path)
        .map_err(|error| refuse(error.to_string(), "check the path and its permissions"))?;
    let metadata = file.metadata().map_err(|error| refuse(error.to_string(), "check the path"))?;
    if metadata.is_dir() {
        return Err(refuse("it is a folder".into(), "name the case file itself"));
    }
    if metadata.len() > LARGEST {
        let size = metadata.len() as f64 / f64::from(1 << 20);
        return Err(refuse(
            format!("it has {size:.1} MiB; a case file has at most 1 MiB, and this one was not read"),
            "name the case file itself; recorded runs belong in CSV files of their own",
        ));
    }
    let mut bytes = Vec::new();
    file.by_ref()
        .take(LARGEST + 1)
        .read_to_end(&mut bytes)
        .map_err(|error| refuse(error.to_string(), "check the path and its permissions"))?;
    if bytes.len() as u64 > LARGEST {
        return Err(refuse("it has more than 1 MiB".into(), "name the case file itself"));
    }
    String::from_utf8(bytes).map_err(|error| {
        let (code, what, way_out) = syntax::of_bytes(error.as_bytes());
        Failure::refused(code, &format!("cannot read {}: {what}", shown(path)), &way_out)
    })
}

/// Writes a result as JSON to standard output.
pub(super) fn print_json(report: &Report) -> Result<(), Failure> {
    print_json_of(report)
}

/// Writes anything as one JSON object to standard output.
pub(super) fn print_json_of(result: &impl serde::Serialize) -> Result<(), Failure> {
    let text = serde_json::to_string_pretty(result).map_err(|error| Failure::Failed(error.to_string()))?;
    terminal::print_json(&text)
}
