# Writes open/grouseticks.csv from the lme4 package (Debian: r-cran-lme4) and the fit that premises must give.
suppressMessages({library(lme4); library(glmmTMB); library(jsonlite)})
d <- grouseticks
out <- data.frame(site = d$LOCATION, year = 1900 + as.integer(as.character(d$YEAR)), brood = d$BROOD, chick = d$INDEX, taxon = "Ixodes ricinus", count = d$TICKS)
write.csv(out, "open/grouseticks.csv", row.names = FALSE, quote = FALSE)
fit <- glmmTMB(TICKS ~ 1 + (1 | LOCATION) + (1 | YEAR), d, family = nbinom2)
write_json(list(fixed = unname(fixef(fit)$cond), sd = lapply(VarCorr(fit)$cond, function(v) unname(attr(v, "stddev"))), theta = sigma(fit),
  logLik = as.numeric(logLik(fit))), "open/grouseticks_glmmTMB.json", auto_unbox = TRUE, digits = NA, pretty = TRUE)
