//! Puts tasks on a clock: people, machines, minimum and maximum lags.
