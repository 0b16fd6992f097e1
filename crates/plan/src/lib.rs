//! One plan: demand, loads, order, cost, schedule, verdicts, figures.
