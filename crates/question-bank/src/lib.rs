//! Questions, sample records, panels, lexicon, category and region trees: read and checked.
