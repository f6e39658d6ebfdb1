# A glmmTMB fit (Laplace, ML or REML) polished by Newton steps on its exact gradient, since glmmTMB stops where the slope
# is small, not where it is 0; standard errors from the Jacobian of that gradient. Written as a list for JSON.
# `terms` names the SDs in the order of the formula's random terms; entries of theta that are held (`map`, `start`) are not
# among the parameters, so that `sd_at` tells which of those left are log SDs (all unless told).
suppressMessages({library(glmmTMB); library(jsonlite); library(numDeriv)})
polished <- function(form, d, fam, terms, reml = FALSE, map = NULL, start = NULL, sd_at = NULL) {
  fit <- suppressWarnings(glmmTMB(form, d, family = fam, REML = reml, map = map, start = start,
    control = glmmTMBControl(optCtrl = list(iter.max = 2000, eval.max = 2000, rel.tol = 1e-14))))
  obj <- fit$obj; par <- fit$fit$par
  for (k in 1:8) {
    g <- as.vector(obj$gr(par)); if (max(abs(g)) < 1e-10) break
    cand <- par - as.vector(solve(jacobian(obj$gr, par), g))
    if (obj$fn(cand) > obj$fn(par) + 1e-9) break
    par <- cand
  }
  g <- max(abs(obj$gr(par)))
  # An SD that runs to 0 has no optimum on the log scale: it is left out of the Hessian and told as 0.
  th <- which(names(par) == "theta"); zero <- th[par[th] < -4]; keep <- setdiff(seq_along(par), zero)
  stopifnot(g < 1e-5)
  h <- jacobian(obj$gr, par); h <- (h + t(h)) / 2
  v <- matrix(0, length(par), length(par)); v[keep, keep] <- solve(h[keep, keep])
  ll <- -as.numeric(obj$fn(par)); last <- obj$env$last.par
  nb <- which(names(par) == "betad"); names_beta <- names(fixef(fit)$cond)
  if (reml) {
    hf <- h; if (length(zero)) { hf[zero, ] <- 0; hf[, zero] <- 0; hf[cbind(zero, zero)] <- 1e12 }
    s <- TMB::sdreport(obj, par, hessian.fixed = hf, getReportCovariance = FALSE)
    at <- names(s$par.random) == "beta"
    beta <- s$par.random[at]; se <- sqrt(s$diag.cov.random[at])
  } else { at <- names(par) == "beta"; beta <- par[at]; se <- sqrt(diag(v))[at] }
  if (is.null(sd_at)) sd_at <- seq_along(terms)
  sds <- exp(par[th])[sd_at]; sds[par[th][sd_at] < -4] <- 0
  list(formula = paste(deparse(form), collapse = ""), method = if (reml) "REML, Laplace" else "ML, Laplace",
    fixed = as.list(setNames(unname(beta), names_beta)), se = as.list(setNames(unname(se), names_beta)),
    sd = as.list(setNames(unname(sds), terms)),
    log_sd_se = as.list(setNames(unname(sqrt(diag(v))[th][sd_at]), terms)),
    theta = if (length(nb)) unname(exp(par[nb])) else NULL, log_theta_se = if (length(nb)) sqrt(diag(v))[nb] else NULL,
    logLik = ll, max_abs_grad = g,
    versions = list(glmmTMB = as.character(packageVersion("glmmTMB")), R = paste(R.version$major, R.version$minor, sep = ".")))
}
save <- function(x, file) write_json(x, file, auto_unbox = TRUE, digits = NA, pretty = TRUE, null = "null", na = "null")
