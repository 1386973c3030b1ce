//! Content, templates and layout make PDF bytes.
