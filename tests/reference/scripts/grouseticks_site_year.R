# Writes open/grouseticks_site_year_glmmTMB.json: the fit with a site-by-year term, which premises chooses by itself.
# Polished by Newton steps on the gradient, since glmmTMB stops where the slope is small, not where it is 0.
suppressMessages({library(lme4); library(glmmTMB); library(jsonlite)})
fit <- glmmTMB(TICKS ~ 1 + (1 | LOCATION) + (1 | YEAR) + (1 | LOCATION:YEAR), grouseticks, family = nbinom2)
obj <- fit$obj
par <- fit$fit$par
for (i in 1:5) {
  g <- as.vector(obj$gr(par))
  h <- optimHess(par, obj$fn, obj$gr)
  par <- par - solve(h, g)
}
stopifnot(max(abs(obj$gr(par))) < 1e-5)
# Parameters: intercept, log theta, log SDs in the order of the formula; covariance from the same Hessian.
se <- sqrt(diag(solve(optimHess(par, obj$fn, obj$gr))))
par <- unname(par); se <- unname(se)
write_json(list(fixed = par[1], fixed_se = se[1], theta = exp(par[2]), log_theta_se = se[2],
  sd = list(site = exp(par[3]), year = exp(par[4]), site_year = exp(par[5])),
  log_sd_se = list(site = se[3], year = se[4], site_year = se[5]), logLik = -as.numeric(obj$fn(par))),
  "open/grouseticks_site_year_glmmTMB.json", auto_unbox = TRUE, digits = NA, pretty = TRUE)
