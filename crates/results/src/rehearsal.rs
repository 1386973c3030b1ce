//! A simulated sitting before the real one: invented candidates write real answers, the real
//! grader marks them, and what comes out is a forecast.
//!
//! Everything random comes from the stream [`base::Purpose::RehearsalCandidate`] of the exam seed,
//! one index a script, so that the figures do not depend on the number of threads:
//!
//! | scripts | index |
//! |---|---|
//! | candidates | sitting × 1,000,000 + candidate, both counted from 0 |
//! | the same candidates a second time, for reliability | the same + 2^62 |
//! | what goes wrong for a candidate | the candidate's + 2^61 |
//! | how hard questions are on a day | sitting × 1,000,000 + 2^60; markers' severity + 1, again + 2 |
//! | what markers give a script | the script's + 2^59 |
//! | guessers | 2^63 + kind × 2^48 + number |
//! | expected scores by ability | 2^63 + 2^62 + part × 2^48 + ability × 1,000,000 + number |

pub mod against;
pub mod closer;
mod closer_words;
mod day;
mod decision;
pub mod draws;
pub mod forecast;
pub mod marking;
mod past_population;
pub mod population;
mod prepared;
mod reliability;
mod scores;
mod script_run;
mod simulate;
mod tasting_answers;
mod theory_answers;
mod true_scores;
mod verdict;
pub mod wanted;

pub use against::{Against, AgainstLine, against};
pub use closer::Closer;
pub use decision::Longer;
pub use forecast::{ByPeople, Difficulties, Extent, Forecast, forecast};
pub use marking::{GraderMarking, Marking};
pub use past_population::population_of;
pub use population::{Guesser, Markers, Mishaps, Pace, Population, Taster};
pub use reliability::{AlphaForecast, ParallelReliability};
pub use simulate::{SimulatedAnswer, simulate_answers};
pub use verdict::{Topic, pass_rule_in_words, sentences_by_topic};
pub use wanted::{Wanted, not_met};
