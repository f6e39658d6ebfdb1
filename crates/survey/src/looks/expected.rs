//! What a survey that may stop early takes on average, in years or animals.

/// What has been spent by the end of each of `years`, from what each year costs. Years beyond the costs cost nothing.
pub fn cumulated(yearly: &[f64], years: &[u32]) -> Vec<f64> {
    let by = |&y: &u32| yearly.iter().take(y as usize).sum();
    years.iter().map(by).collect()
}

/// Mean spending of surveys of which the share `ends[k]` ends after `years[k]` years, each year costing as `yearly` says:
/// ones give the expected years, kills the expected toll.
pub fn expected_by_end(ends: &[f64], years: &[u32], yearly: &[f64]) -> f64 {
    let spent = cumulated(yearly, years);
    ends.iter().zip(spent).map(|(e, s)| e * s).sum()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn years_and_costs() {
        let (ends, years) = ([0.25, 0.25, 0.5], [2, 3, 5]);
        assert_eq!(expected_by_end(&ends, &years, &[1.0; 5]), 3.75);
        let yearly = [10.0, 1.0, 1.0, 1.0, 1.0];
        assert_eq!(cumulated(&yearly, &years), [11.0, 12.0, 14.0]);
        assert_eq!(expected_by_end(&ends, &years, &yearly), 12.75);
    }
}
