//! Curves as pictures.
