//! What the world may do beyond the plain model: each departure's law against theory, by simulation.

mod plain;
