//! The use cases, each one function: load, check, assemble, print, pour, mark, results, practise, rehearse.
