//! Whether a form was assembled from this bank: every question is there and letters as many things.

use base::Fault;
use question_bank::Bank;

use crate::sitting::Form;

/// Everything about a form that does not fit a bank; empty where papers and keys may be made.
#[must_use]
pub fn form_fits(bank: &Bank, form: &Form) -> Vec<Fault> {
    let hint = "use the bank from which the sitting was assembled";
    form.questions
        .iter()
        .enumerate()
        .filter_map(|(place, on_form)| {
            let id = &on_form.question;
            let number = place + 1;
            let Some(question) = bank.questions.get(id) else {
                let what = format!(
                    "question {number} of form {} is \"{id}\", which the bank does not hold",
                    form.name
                );
                return Some(Fault::new("form-of-another-bank", None, what).hint(hint));
            };
            let realised = match question.realised(&on_form.drawn) {
                Ok(realised) => realised,
                Err(why) => {
                    let what = format!(
                        "question {number} of form {}, \"{id}\", was printed with other numbers \
                         than the bank draws: {why}",
                        form.name
                    );
                    let fault = Fault::new("form-of-another-bank", question.place.clone(), what);
                    return Some(fault.hint(hint));
                }
            };
            let (printed, lettered) = (on_form.order.len(), realised.kind.lettered());
            (printed != lettered).then(|| {
                let what = format!(
                    "question {number} of form {}, \"{id}\", was printed with {printed} lettered \
                     entries and has {lettered} in the bank",
                    form.name
                );
                Fault::new("form-of-another-bank", question.place.clone(), what).hint(hint)
            })
        })
        .collect()
}
