//! What one exam consists of: plan, room and roster, read and checked.
