//! Pilot catches in, premises out.
