//! Bench questions: one question, one answer.
