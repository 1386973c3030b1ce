//! What the test folders share.
