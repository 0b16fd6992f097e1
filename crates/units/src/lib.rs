//! Quantities as types, read as cooks write them.
