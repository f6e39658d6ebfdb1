//! Special functions, distributions, random streams, small dense algebra, optimisers, root finding.
