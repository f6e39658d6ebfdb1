//! Closed forms against simulated surveys.
