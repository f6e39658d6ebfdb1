# The fits of `cargo xtask bench peers` in R: the sets of tests/reference and the open tick counts, by glmmTMB and lme4.
# Writes one line of JSON for each measurement. Start-up and loading are not timed; processor time of one
# thread.
# usage, in tests/peers: Rscript peers.R      (Debian: r-base-core r-cran-glmmtmb r-cran-lme4)
has <- function(package) suppressWarnings(suppressMessages(requireNamespace(package, quietly = TRUE)))
say <- function(...) cat(sprintf(...), "\n", sep = "")
version <- function(package) as.character(packageVersion(package))
say('{"version":"R","is":"%s"}', paste(R.version$major, R.version$minor, sep = "."))

scripts <- "../reference/scripts"
specs <- new.env()
# Only the table of models and the simulation are taken from there; its last line needs glmmTMB.
sys.source(file.path(scripts, "specs.R"), specs)
sets <- c("a", "b", "c", "d", "e")
data <- lapply(setNames(nm = sets), function(id) specs$prep(read.csv(sprintf("../reference/data/%s.csv", id))))
form <- lapply(setNames(nm = sets), function(id) as.formula(specs$SPECS[[id]]$form))
law <- lapply(setNames(nm = sets), function(id) specs$SPECS[[id]]$fam)
data$ticks <- read.csv("../reference/open/grouseticks.csv", stringsAsFactors = TRUE)
data$ticks$site <- factor(data$ticks$site); data$ticks$year <- factor(data$ticks$year)
form$ticks <- count ~ 1 + (1 | site) + (1 | year)
law$ticks <- "nbinom2"
sets <- c(sets, "ticks")

spent <- function(work) { t <- system.time(work()); 1000 * (t[["user.self"]] + t[["sys.self"]]) }

# Median of milliseconds over `calls` after one that is not timed, and the last log likelihood.
measure <- function(peer, set, calls, fit, loglik) {
  quiet <- function() suppressWarnings(suppressMessages(fit()))
  last <- quiet()
  ms <- replicate(calls, spent(function() last <<- quiet()))
  say('{"peer":"%s","set":"%s","ms":%.4f,"calls":%d,"log_likelihood":%.10f}', peer, set, median(ms), calls, loglik(last))
}

if (has("glmmTMB")) {
  say('{"version":"glmmTMB","is":"%s"}', version("glmmTMB")); say('{"version":"TMB","is":"%s"}', version("TMB"))
  suppressMessages(library(glmmTMB))
  family <- function(set) switch(law[[set]], poisson = poisson(), binomial = binomial(), nbinom2 = nbinom2())
  control <- glmmTMBControl(parallel = 1)
  for (set in sets) {
    call <- function() glmmTMB(form[[set]], data[[set]], family = family(set), control = control)
    measure("glmmTMB", set, 5L, call, function(f) as.numeric(logLik(f)))
    # Its likelihood and gradient under the optimiser alone: no formula, no model frame, no standard errors.
    obj <- call()$obj
    start <- obj$env$par
    bare <- function() {
      obj$env$last.par <- obj$env$last.par.best <- start
      obj$env$value.best <- Inf
      nlminb(obj$par, obj$fn, obj$gr, control = list(iter.max = 1000, eval.max = 1000))
    }
    measure("glmmTMB, optimiser alone", set, 5L, bare, function(f) -f$objective)
  }
  # What a person would otherwise script: draw a survey, fit it, keep the slope and its standard error.
  s <- specs$SPECS$b
  set.seed(1)
  ms <- spent(function() for (i in 1:200) {
    d <- specs$prep(specs$simulate_one("b", s))
    f <- suppressWarnings(glmmTMB(form$b, d, family = nbinom2(), control = control))
    summary(f)$coefficients$cond["tc", 1:2]
  })
  say('{"peer":"glmmTMB","set":"200 surveys","ms":%.4f,"calls":1,"log_likelihood":null}', ms)
} else say('{"missing":"glmmTMB","install":"apt-get install r-cran-glmmtmb"}')

if (has("lme4")) {
  say('{"version":"lme4","is":"%s"}', version("lme4"))
  suppressMessages(library(lme4))
  for (set in c("a", "d", "e")) {
    family <- if (law[[set]] == "poisson") poisson() else binomial()
    call <- function() glmer(form[[set]], data[[set]], family = family)
    measure("lme4", set, 5L, call, function(f) as.numeric(logLik(f)))
  }
  for (set in c("b", "ticks")) {
    call <- function() glmer.nb(form[[set]], data[[set]])
    measure("lme4", set, 3L, call, function(f) as.numeric(logLik(f)))
  }
} else say('{"missing":"lme4","install":"apt-get install r-cran-lme4"}')
