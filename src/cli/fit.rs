//! `fit`: readings of a real car back into the case.

use super::common::{DepthArguments, Ready, print_json_of, read_text};
use super::drawing::LongWork;
use super::files::{shown, stem};
use super::fitted_copy::{Source, fitted_copy};
use super::recorded::{Unread, read_record};
use super::{CaseArguments, Failure, terminal};
use crate::case::fitted::{FittedReading, texts};
use crate::case::render::render;
use crate::case::{Case, Diagnostic, Loaded, load, tables as t};
use crate::draws::TallyWanted;
use crate::draws::doubt::Doubt;
use crate::output::{fitted, text};
use crate::point::Model;
use crate::point::budget::{Budget, seconds};
use crate::point::conditions::solved_within;
use crate::point::result::Condition;
use crate::readings::file;
use crate::readings::taken::Readings;
use crate::study::document::Report;
use crate::study::doubt::{LeastOver, of_conditions};
use crate::study::fit::result::{Ask, Fit as Found, MarginNow, Misfit, SizeNow, SizesNow};
use crate::study::fit::{self, NoFit};
use crate::study::lap::record::Record;
use crate::study::size::result::{Sizes, SizesColumn, SizesInDraws};
use crate::study::size::{Holding, Sizing};
use clap::Args;
use serde::Serialize;
use sha2::{Digest, Sha256};
use std::path::PathBuf;

pub(super) const EXAMPLE: &str = "Example: slowcorner fit car.toml car-readings.toml\nWrites car-fitted.toml, the case with what the readings say, from which every command then draws.";

#[derive(Debug, Args)]
pub(super) struct FitArgs {
    #[command(flatten)]
    case: CaseArguments,
    /// The readings file
    readings: PathBuf,
    #[command(flatten)]
    depth: DepthArguments,
    /// Take readings that were planned for another state of the case
    #[arg(long)]
    other_revision: bool,
    /// Folder for the fitted case; default that of the case
    #[arg(long, value_name = "FOLDER")]
    into: Option<PathBuf>,
    /// Write over a fitted case that somebody changed
    #[arg(long)]
    replace: bool,
    /// Also seek openings that hold, before and after: as long as size, twice
    #[arg(long)]
    sizes: bool,
    /// Write the chart as SVG only
    #[arg(long)]
    svg_only: bool,
    /// Write the fitted case even where a reading looks like a slip: it was read so
    #[arg(long)]
    as_read: bool,
    /// Say what the readings say, and write nothing
    #[arg(long)]
    dry: bool,
}

/// A report with its fit.
#[derive(Serialize)]
struct FitJson<'s> {
    #[serde(flatten)]
    report: &'s Report,
    fit: &'s Found,
}

/// A report with what was asked, where there is no fit beside it.
#[derive(Serialize)]
struct AskedJson<'s> {
    #[serde(flatten)]
    report: &'s Report,
    fit: OnlyAsked<'s>,
}

/// What stands in the place of a fit.
#[derive(Serialize)]
struct OnlyAsked<'s> {
    asks: &'s [Ask],
    held_back: bool,
}

impl FitArgs {
    pub fn run(&self) -> Result<bool, Failure> {
        let ready = Ready::read(&self.case)?;
        let source = read_text(&self.readings)?;
        let name = shown(&self.readings);
        let refuse = |code: &'static str, message: &str, way_out: &str| {
            let fault = crate::case::Diagnostic::new(code, message, crate::case::FaultPlace::Whole, way_out);
            Failure::Refused(render(&[fault], &name, &source))
        };
        let mut readings = file::load(&source, &ready.loaded)
            .map_err(|faults| Failure::Refused(render(faults.list(), &name, &source)))?;
        let records = self.records(&mut readings, &|fault| {
            Failure::Refused(render(std::slice::from_ref(fault), &name, &source))
        })?;
        if !ready.set.is_empty() && !self.dry {
            return Err(refuse(
                "fit-with-set",
                "the fitted case would hold what --set says for this run alone",
                "write the value into the case file first, or look only: --dry",
            ));
        }
        let digest = digest(&source);
        self.known(&ready, &readings, &digest, &refuse)?;
        let mut outputs = ready.outputs(self.into.as_deref())?.replacing(self.replace);
        outputs.protect(&self.readings);
        let fitted_name = format!("{}-fitted.toml", stem(&self.case.case).trim_end_matches("-fitted"));
        if !self.dry {
            outputs.try_case(&fitted_name)?;
        }
        let mut conditions = ready.conditions()?;
        let before = of_conditions(ready.case(), &mut conditions, TallyWanted::default(), &|_| true);
        let measure = LeastOver::of(ready.case(), &conditions);
        let work = LongWork::new("fitting");
        let fitted = fit::fit(ready.case(), &readings, &records, &measure, &|share| work.told(share));
        if let Err(NoFit::NotAgreed { asks, .. }) = &fitted
            && !asks.is_empty()
            && !self.as_read
        {
            return self.asked(&ready, asks);
        }
        let (mut found, left) = fitted.map_err(|why| told(&why, &refuse))?;
        (found.readings_file, found.readings_sha256) = (name.clone(), digest.clone());
        let kept: Vec<FittedReading> = found.misfits.iter().map(Misfit::kept).collect();
        let written = Source { readings: &name, digest: &digest, case_sha256: ready.sha256(), kept: &kept };
        let copy = fitted_copy(&ready.source, ready.case(), &left, &written).map_err(Failure::Failed)?;
        let loaded =
            load(&copy, &[]).map_err(|faults| Failure::Failed(render(faults.list(), &fitted_name, &copy)))?;
        let (after, now) = after(&loaded)?;
        found.margins = margins(&conditions, &now);
        found.sizes = sizes(ready.case(), &loaded.case, self.sizes);
        (found.before, found.after) = (before, after);
        let mut report = ready.report(ready.case(), &ready.model, conditions);
        report.doubt = None;
        let mut files = Vec::new();
        // what looks like a slip would spoil every answer drawn from the copy
        found.held_back = !self.dry && !self.as_read && !found.asks.is_empty();
        if !self.dry && !found.held_back {
            outputs.add_copy(&fitted_name, &copy, &self.case.case);
            let name = format!("{}-fit", stem(&self.case.case).trim_end_matches("-fitted"));
            outputs.add_chart(&name, &fitted::chart(&report, &kept), !self.svg_only);
            files = outputs.write()?;
            found.written = files.first().cloned();
        }
        if self.case.json {
            print_json_of(&FitJson { report: &report, fit: &found })?;
        } else {
            terminal::print(&text::fit(&report, &found, self.depth.depth(), &files))?;
        }
        Ok(!found.held_back)
    }

    /// Asks about slips beside which there is no fit at all.
    fn asked(&self, ready: &Ready, asks: &[Ask]) -> Result<bool, Failure> {
        let report = ready.report(ready.case(), &ready.model, Vec::new());
        if self.case.json {
            print_json_of(&AskedJson { report: &report, fit: OnlyAsked { asks, held_back: true } })?;
        } else {
            terminal::print(&text::fit_asked(&report, asks))?;
        }
        Ok(false)
    }

    /// The recorded run of each test that is one, its measured columns taken up among the readings.
    fn records(
        &self,
        readings: &mut Readings,
        refused: &dyn Fn(&Diagnostic) -> Failure,
    ) -> Result<Vec<Option<Record>>, Failure> {
        let mut records = vec![None; readings.tests.len()];
        for (test, slot) in records.iter_mut().enumerate() {
            let own = &readings.tests[test];
            let Some(run) = own.run else { continue };
            let values = readings.scenes[own.scene].case.stints[run.stint].values.clone();
            let beside = if run.beside_readings { &self.readings } else { &self.case.case };
            if let Some(record) = read_record(beside, &values).map_err(Unread::failure)? {
                *slot = Some(fit::take_up(readings, test, record).map_err(|fault| refused(&fault))?);
            }
            if let Some(fault) = fit::not_followed(readings, test, slot.as_ref()) {
                return Err(refused(&fault));
            }
        }
        Ok(records)
    }

    /// Refuses readings that were taken before, or were planned for another state of the case.
    fn known(
        &self,
        ready: &Ready,
        readings: &Readings,
        digest: &str,
        refuse: &dyn Fn(&'static str, &str, &str) -> Failure,
    ) -> Result<(), Failure> {
        if let Some((values, _)) = &ready.case().fitted {
            if texts(values, &t::READINGS_SHA256).iter().any(|known| known == digest) {
                return Err(refuse(
                    "readings-taken-already",
                    "this case was fitted to these very readings: twice would count them double",
                    "fit the case as it was before, or read something new",
                ));
            }
            let took = texts(values, &t::TOOK);
            let again: Vec<String> =
                fit::took(readings).into_iter().filter(|one| took.contains(one)).collect();
            if let Some(first) = again.first() {
                let message =
                    format!("{} of these readings set values of this case already: {first}", again.len());
                return Err(refuse(
                    "readings-taken-already",
                    &message,
                    "take them out of this file; what was read once more, with another result, has another date",
                ));
            }
        }
        let planned = readings.case_sha256.as_deref().map(str::trim).unwrap_or_default();
        if !planned.is_empty() && !ready.sha256().starts_with(planned) && !self.other_revision {
            let message = format!(
                "these readings were planned for the state {}… of the case, and it is {}… now",
                planned.chars().take(8).collect::<String>(),
                ready.sha256().chars().take(8).collect::<String>()
            );
            return Err(refuse(
                "readings-of-another-state",
                &message,
                "where nothing changed that was read through, say so: --other-revision; else read again, or fit the case as it was",
            ));
        }
        Ok(())
    }
}

/// What keeps a fit from being made, in words.
fn told(why: &NoFit, refuse: &dyn Fn(&'static str, &str, &str) -> Failure) -> Failure {
    match why {
        NoFit::NothingRead => refuse(
            "nothing-read",
            "no reading of the file is filled in",
            "write what was read behind shows, with its unit, as in shows = \"171 degC\"",
        ),
        NoFit::NothingGuessed => refuse(
            "nothing-guessed",
            "no number of the case has a band, so that nothing may move",
            "write what you are not sure of with its band, as in brake_efficiency = \"25 % ± 2 %\"",
        ),
        NoFit::NoSteadyState => refuse(
            "test-unsolved",
            "with the middles of all bands a test has no steady state",
            "see whether its speed, load and tape are as they were; slowcorner check tells how the case stands",
        ),
        NoFit::NotAgreed { agreement, effective, asks } => {
            let message = format!(
                "the readings as they stand allow no fit that can be believed: agreement of the chains {agreement:.2} (1.05 at most), worth {effective:.0} draws (400 at least)"
            );
            let look = "look for a reading at odds with the others, or a slip; readings that say very little of very much may also do it: give the guesses narrower bands, or read more";
            // what looks like a slip comes first: it is the likeliest cause
            let way_out: Vec<&str> = asks.iter().map(|ask| ask.question.as_str()).chain([look]).collect();
            refuse("chains-not-agreed", &message, &way_out.join("; "))
        }
    }
}

/// Doubt and conditions of the fitted case.
fn after(loaded: &Loaded) -> Result<(Option<Doubt>, Vec<Condition>), Failure> {
    let case = &loaded.case;
    let model = Model::new(case).map_err(|faults| Failure::Failed(faults.to_string()))?;
    let mut conditions = solved_within(case, &model, Budget::seconds(seconds::CHECK)).conditions;
    let doubt = of_conditions(case, &mut conditions, TallyWanted::default(), &|_| true);
    Ok((doubt, conditions))
}

/// Sizes before and after, where the case says which openings are free; none where they cannot be found in time.
fn sizes(before: &Case, after: &Case, holding_too: bool) -> Option<SizesNow> {
    let holding = Holding::of(before, None);
    let find = |case: &Case| {
        let sizing = Sizing::new(case).ok()?;
        // half a search for what holds would tell sizes that are no answer
        let columns = holding_too.then(|| (holding, Budget::seconds(seconds::HOLDS)));
        // as `size` looks for them, so that both find the same
        sizing.solve_and_hold(Budget::seconds(seconds::SIZE), columns).ok().map(|sized| sized.sizes)
    };
    let (before, after) = rayon::join(|| find(before), || find(after));
    let both = [before?, after?];
    let column = |sizes: &Sizes, wanted| sizes.columns.iter().find(|column| column.column == wanted).cloned();
    let taken = [0, 1].map(|side| column(&both[side], SizesColumn::ValuesTaken));
    let held = [0, 1].map(|side| column(&both[side], SizesColumn::Holds));
    let share = |column: &Option<SizesInDraws>| column.as_ref().map(|column| column.all_hold);
    let openings = both[0].openings.iter().map(|opening| SizeNow {
        name: opening.name.clone(),
        pieces: opening.pieces,
        louvres: opening.louvres,
        taken_m2: [0, 1].map(|side| {
            let own = both[side].openings.iter().find(|other| other.name == opening.name);
            own.map_or(f64::NAN, |own| own.after_m2)
        }),
        holds_m2: [0, 1].map(|side| {
            let areas = &held[side].as_ref()?.areas_m2.0;
            areas.iter().find(|(name, _)| *name == opening.name).map(|(_, area)| *area)
        }),
    });
    Some(SizesNow {
        asked: holding.share,
        reached: [0, 1].map(|side| both[side].feasible),
        hold: [share(&taken[0]), share(&taken[1])],
        held: [share(&held[0]), share(&held[1])],
        openings: openings.collect(),
    })
}

/// Margins before and after, side by side.
fn margins(before: &[Condition], after: &[Condition]) -> Vec<MarginNow> {
    let mut all = Vec::new();
    for condition in before {
        let Some(now) = after.iter().find(|now| now.name == condition.name) else { continue };
        for (part, is) in condition.parts.iter().zip(&now.parts).filter(|(part, _)| part.has_limit()) {
            all.push(MarginNow {
                condition: condition.name.clone(),
                part: part.name.clone(),
                before_K: part.margin_band_K,
                after_K: is.margin_band_K,
                held: part.likelihood,
                holds: is.likelihood,
            });
        }
    }
    all
}

fn digest(text: &str) -> String {
    Sha256::digest(text.as_bytes()).iter().map(|byte| format!("{byte:02x}")).collect()
}
