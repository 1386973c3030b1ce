//! Takes in answer tables, row by row, so that memory does not grow with the number of scripts.
//!
//! Two shapes are read, told apart by the header:
//! * long, one row for each candidate and question: `candidate,part,question,answer`, where the
//!   part is `theory` and the question its printed number, or the part is `tasting` and the
//!   question a glass code and what was asked (`417 aroma`);
//! * wide, one row for each candidate: `candidate,q1,q2,…,g1.aroma,g1.category,…`, where `q7` is
//!   the question printed as number 7 on that candidate's form and `g2` the second glass in that
//!   candidate's serving order. A column `g2.code` is compared with the code that was served.
//!
//! Both may have a column `remark`: what the proctor noted on the script. It is shown to the chief
//! examiner and changes no mark. `sheet` names the picture from which a row was read and `by` who
//! typed it in; both are kept with the answers and change no mark.

mod header;
mod intake;
mod rows;

pub use intake::{Intake, Origin, Remark, take_in};
