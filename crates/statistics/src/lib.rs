//! Test theory and sensory statistics: slices in, result structs out.
