# Restricted-likelihood fits of the reference sets by glmmTMB (REML = TRUE), for the checks of our own.
# usage, in tests/reference: Rscript scripts/reml.R   (Debian: r-cran-glmmtmb, r-cran-jsonlite, r-cran-numderiv)
suppressMessages({library(glmmTMB); library(jsonlite)}); source("scripts/specs.R")
for (id in c("a", "b", "c", "d", "e", "f2", "g")) {
  s <- SPECS[[id]]; d <- prep(read.csv(sprintf("data/%s.csv", id)))
  fit <- suppressWarnings(glmmTMB(as.formula(s$form), d, family = fam_tmb(s$fam), REML = TRUE,
    control = glmmTMBControl(optCtrl = list(iter.max = 2000, eval.max = 2000, rel.tol = 1e-14))))
  co <- summary(fit)$coefficients$cond
  sds <- sapply(VarCorr(fit)$cond, function(v) unname(attr(v, "stddev")))
  write_json(list(dataset = id, formula = s$form, family = s$fam, software = "glmmTMB", method = "REML, Laplace",
    fixed = as.list(setNames(co[, 1], rownames(co))), se = as.list(setNames(co[, 2], rownames(co))), sd = as.list(sds),
    theta = if (s$fam == "nbinom2") sigma(fit) else NULL, logLik = -fit$fit$objective,
    max_abs_grad = max(abs(fit$obj$gr(fit$fit$par))),
    versions = list(glmmTMB = as.character(packageVersion("glmmTMB")), R = R.version.string)),
    sprintf("fits/%s_reml.json", id), auto_unbox = TRUE, digits = NA, pretty = TRUE, null = "null")
}
