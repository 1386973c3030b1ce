//! One file per sitting: the store, the only room that opens it.
