//! Every line solved again with the areas that are drawn.

use super::super::size::Sized;
use super::lines::{LINES, columns};
use super::result::{LineName, Meaning, Template};
use super::shape::OpeningCut;
use super::{NotDrawn, Templates};
use crate::case::Case;
use crate::point::model::Model;
use crate::point::opening::Opening;
use crate::study::size::result::SizesColumn;

/// Looks at sets of openings.
pub(super) struct Looked<'c> {
    case: &'c Case,
    sized: Option<&'c Sized>,
}

impl<'c> Looked<'c> {
    pub fn new(case: &'c Case, sized: Option<&'c Sized>) -> Looked<'c> {
        Looked { case, sized }
    }

    /// What each line means, all openings at it together.
    pub fn lines(&mut self, drawn: &[(Opening, Template)]) -> Result<Vec<Meaning>, NotDrawn> {
        let is_there = |name: &LineName| {
            drawn.iter().any(|(_, template)| template.lines.iter().any(|line| line.line == *name))
        };
        LINES
            .into_iter()
            .zip(columns(self.sized.map(|sized| &sized.sizes)))
            .filter(|(name, _)| is_there(name))
            .map(|(name, column)| self.line(name, column, drawn))
            .collect()
    }

    fn line(
        &self,
        name: LineName,
        column: Option<SizesColumn>,
        drawn: &[(Opening, Template)],
    ) -> Result<Meaning, NotDrawn> {
        let mut case = self.case.clone();
        for (opening, template) in drawn {
            let Some(line) = template.lines.iter().find(|line| line.line == name) else { continue };
            opening.set(&mut case, line.area_m2);
            let solved =
                Opening::at(&case, opening.passage, opening.element).map_or(f64::NAN, |now| now.area());
            if !OpeningCut::alike(solved, line.sheet_m2) {
                return Err(NotDrawn::AreasDiffer {
                    opening: template.opening.clone(),
                    sheet_cm2: 1e4 * line.sheet_m2,
                    solved_cm2: 1e4 * solved,
                });
            }
        }
        let least = Model::new(&case).ok().and_then(|model| {
            let all = Sized::all_conditions(&case);
            let counted = self.sized.map_or(&all[..], |sized| sized.counting());
            super::super::size::least_at(&case, &model, counted)
        });
        let columns = self.sized.map_or(&[][..], |sized| &sized.sizes.columns);
        let all_hold = column
            .and_then(|wanted| columns.iter().find(|column| column.column == wanted))
            .map(|c| c.all_hold);
        let at_flange = drawn.iter().any(|(_, template)| {
            template.lines.iter().any(|line| line.line == name && line.ends_at.is_some())
        });
        Ok(Meaning {
            line: name,
            when: self.when(name, column, at_flange),
            all_hold,
            least_K: least.as_ref().map(|least| least.0),
            part: least.as_ref().map(|least| least.1.clone()),
            condition: least.map(|least| least.2),
        })
    }

    /// When a line may be cut.
    fn when(&self, name: LineName, column: Option<SizesColumn>, at_flange: bool) -> String {
        let by_draws = self.sized.is_some_and(|sized| !sized.sizes.columns.is_empty());
        let text = match name {
            LineName::Pilot if self.sized.is_some_and(Sized::is_hopeless) => {
                "cut nothing yet: with none of these lines does all stay cool; change fan, cooler or limit first"
            }
            LineName::Pilot => "cut at once: hardly any car needs less",
            LineName::Next => {
                "cut where what is read at the PILOT asks for more (slowcorner steps says what may be driven there)"
            }
            LineName::Final if by_draws && column == Some(SizesColumn::Holds) => {
                "cut when the readings at NEXT ask for more: with these all stays cool most often"
            }
            LineName::Final if by_draws => {
                "cut when the readings at NEXT ask for more: sized with the values taken"
            }
            LineName::Final if self.sized.is_some() => {
                "as sized with the values taken; how sure that is was not asked"
            }
            LineName::Final => "as the case has it; no sizes were looked for",
            LineName::NeverBeyond if at_flange => {
                "never cut further: beyond it there is no flange or land left"
            }
            LineName::NeverBeyond => "never cut further: more buys nothing that the guesses ask for",
        };
        text.to_string()
    }
}

impl Templates {
    /// What a line means.
    pub fn meaning(&self, line: LineName) -> Option<&Meaning> {
        self.lines.iter().find(|meaning| meaning.line == line)
    }
}
