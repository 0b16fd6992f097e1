//! The kitchen's physics and chemistry, one phenomenon a file.
