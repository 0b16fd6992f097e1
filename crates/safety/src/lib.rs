//! Limits by place, and the verdicts shown, not shown, broken.
