# Fits of the general model's invented data by glmmTMB, ML and REML, polished: fits/<set>_<ml|reml>.json.
# usage, in tests/reference: Rscript scripts/general_fit.R   (Debian: r-cran-glmmtmb, r-cran-jsonlite, r-cran-numderiv)
source("scripts/polish.R")
read <- function(name, mid) { d <- read.csv(sprintf("data/%s.csv", name)); d$tc <- d$year - mid; d }
slope <- read("slope", 4.5); visits <- read("visits", 3); weather <- read("weather", 3.5); correlated <- read("correlated", 5.5)
visits$w <- factor(visits$week)
# In correlated the correlations are given: theta of exp() holds log SD and the logarithm of the range (Brooks et al. 2017,
# R Journal 9:378, and glmmTMB's vignette on covariance structures). An autoregression of order 1 with correlation .6 is
# exp(-distance / range) with range -1/log(.6), which unlike ar1() does not close the gap of the year left out.
correlated$one <- factor(1)
correlated$years <- numFactor(correlated$year)
correlated$place <- numFactor(correlated$km_east, correlated$km_north)
sets <- list(
  slope = list(d = slope, fam = nbinom2(), form = count ~ tc + (1 | site) + (0 + tc | site) + (1 | year), terms = c("site", "slope", "year")),
  visits = list(d = visits, fam = nbinom2(), terms = c("site", "year", "site_year", "visit"),
    form = count ~ tc + w + offset(log(days / 7)) + (1 | site) + (1 | year) + (1 | site:year) + (1 | site:year:week)),
  weather = list(d = weather, fam = poisson(), terms = c("site", "year", "week_in_year", "site_year"),
    form = count ~ tc + (1 | site) + (1 | year) + (1 | year:week) + (1 | site:year)),
  correlated = list(d = correlated, fam = nbinom2(), terms = c("year", "site"), sd_at = c(1, 2),
    form = count ~ tc + exp(years + 0 | one) + exp(place + 0 | one),
    map = list(theta = factor(c(1, NA, 2, NA))), start = list(theta = c(log(.4), log(-1 / log(.6)), log(.7), log(3)))))
for (id in names(sets)) for (reml in c(FALSE, TRUE)) {
  s <- sets[[id]]
  if (id %in% c("slope", "visits", "weather")) for (f in intersect(c("site", "year", "week"), names(s$d))) s$d[[f]] <- factor(s$d[[f]])
  r <- polished(s$form, s$d, s$fam, s$terms, reml, s$map, s$start, s$sd_at)
  save(r, sprintf("fits/%s_%s.json", id, if (reml) "reml" else "ml"))
  cat(id, if (reml) "reml" else "ml", unlist(r$fixed), "SD", unlist(r$sd), "SE", unlist(r$se), "theta", r$theta, "logLik", format(r$logLik, digits = 10), "grad", r$max_abs_grad, "\n")
}
