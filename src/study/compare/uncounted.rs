//! What a layout makes worse in conditions that do not count: no rank hangs on it, and a builder should still know.

use super::result::{Compared, LayoutResult, WorseUncounted};

/// Kelvins by which a part that is over its limit is worse than in the base case for it to be told.
const WORSE: f64 = 5.0;

/// Notes it, layout by layout.
pub(super) fn note(compare: &mut [Compared]) {
    let Some(base) = compare.iter().find(|compared| compared.base).and_then(|base| base.answer.clone())
    else {
        return;
    };
    for compared in compare.iter_mut().filter(|compared| !compared.base) {
        if let Some(answer) = &mut compared.answer {
            answer.worse_uncounted = worse(answer, &base);
        }
    }
}

/// Of each part the condition in which it is furthest over its limit, where it is further over than in the base case.
fn worse(answer: &LayoutResult, base: &LayoutResult) -> Vec<WorseUncounted> {
    let mut found: Vec<WorseUncounted> = Vec::new();
    for own in answer.conditions.iter().filter(|condition| !condition.counts) {
        let Some(other) = base.conditions.iter().find(|condition| condition.name == own.name) else {
            continue;
        };
        for part in own.parts.iter().filter(|part| part.has_limit()) {
            let Some(before) = other.parts.iter().find(|known| known.name == part.name) else { continue };
            let (now, then) = (part.temperature_margin_K, before.temperature_margin_K);
            if now >= 0.0 || now > then - WORSE {
                continue;
            }
            let worse = WorseUncounted {
                part: part.name.clone(),
                condition: own.name.clone(),
                temperature_margin_K: now,
                base_K: then,
            };
            match found.iter_mut().find(|known| known.part == worse.part) {
                Some(known) if known.temperature_margin_K <= now => {}
                Some(known) => *known = worse,
                None => found.push(worse),
            }
        }
    }
    found
}
