//! Facts just inside, on and just outside; missing, contradictory and impossible.
