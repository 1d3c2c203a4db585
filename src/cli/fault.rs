//! A fault of the program: told in one sentence, and never half an answer.

use super::{Failure, files};
use std::panic::{AssertUnwindSafe, PanicHookInfo, catch_unwind};
use std::sync::{Mutex, PoisonError};

/// What the first panic said, and where.
static SAID: Mutex<Option<String>> = Mutex::new(None);

/// Runs, and turns a panic in any thread into a failure.
pub(super) fn caught(run: impl FnOnce() -> Result<bool, Failure>) -> Result<bool, Failure> {
    // kept for the sentence that tells of it: a trace of the stack is of no use at the bench
    std::panic::set_hook(Box::new(|panic| {
        SAID.lock().unwrap_or_else(PoisonError::into_inner).get_or_insert(words(panic));
    }));
    // nothing of the run is looked at again after a panic
    catch_unwind(AssertUnwindSafe(run)).unwrap_or_else(|_| {
        let said = SAID.lock().unwrap_or_else(PoisonError::into_inner).take();
        let written = if files::anything_written() { "" } else { "; nothing was written" };
        Err(Failure::Unsaid(format!(
            "slowcorner failed at {}, which is a fault of the program and not of yours{written}; please report it with the case file and this line",
            said.unwrap_or_default()
        )))
    })
}

/// Where a panic was, and what it said.
fn words(panic: &PanicHookInfo) -> String {
    let place = panic.location().map_or(String::new(), |at| format!("{}, line {}", at.file(), at.line()));
    let payload = panic.payload();
    let text =
        payload.downcast_ref::<&str>().copied().or(payload.downcast_ref::<String>().map(String::as_str));
    format!("{place} ({})", text.unwrap_or("no reason given").replace('\n', " "))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_panic_in_any_thread_is_one_sentence() {
        let own = || -> Result<bool, Failure> { panic!("first line\nsecond") };
        let another = || rayon::join(|| panic!("{} of them", 2), || Ok(true)).1;
        let before = std::panic::take_hook();
        let ends = [caught(own), caught(another), caught(|| Ok(false))];
        std::panic::set_hook(before);
        let [Err(Failure::Unsaid(own)), Err(Failure::Unsaid(another)), Ok(false)] = ends else {
            unreachable!("{ends:?}")
        };
        assert!(own.contains("fault.rs, line") && own.contains("(first line second)"), "{own}");
        assert!(another.contains("(2 of them)") && !another.contains("first"), "{another}");
        for text in [own, another] {
            assert!(!text.contains('\n') && !text.contains(". ") && text.contains("report"), "{text}");
        }
    }
}
