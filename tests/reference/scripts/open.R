# Tables and fits of open data: open/salamanders.csv (glmmTMB), open/trichometeo.csv (ade4), open/moths.csv (DAAG), and
# open/<set>_<ml|reml>.json, polished. Ticks with brood use open/grouseticks.csv.
# usage, in tests/reference: Rscript scripts/open.R   (Debian: r-cran-glmmtmb, r-cran-ade4, r-cran-jsonlite,
# r-cran-numderiv). DAAG is on CRAN only: without it the moths' table that is here is read.
source("scripts/polish.R")
write <- function(d, name) write.csv(d, sprintf("open/%s.csv", name), row.names = FALSE, quote = FALSE)
totals <- aggregate(count ~ site + sample, Salamanders, sum)
totals <- totals[order(totals$site, totals$sample), ]
write(data.frame(site = totals$site, visit = totals$sample, count = totals$count), "salamanders")
data(trichometeo, package = "ade4")
write(data.frame(night = 1:49, group = trichometeo$cla, count = rowSums(trichometeo$fau)), "trichometeo")
if (requireNamespace("DAAG", quietly = TRUE)) {
  m <- DAAG::moths
  write(data.frame(transect = seq_len(nrow(m)), meters = m$meters, habitat = m$habitat, count = m$A), "moths")
}
read <- function(name, factors) {
  d <- read.csv(sprintf("open/%s.csv", name))
  for (f in factors) d[[f]] <- factor(d[[f]])
  d
}
sets <- list(
  ticks_brood = list(d = read("grouseticks", c("site", "year", "brood")), form = count ~ 1 + (1 | site) + (1 | year) + (1 | brood),
    terms = c("site", "year", "brood")),
  salamanders = list(d = read("salamanders", c("site", "visit")), form = count ~ 1 + (1 | site) + (1 | visit),
    terms = c("site", "visit")),
  trichometeo = list(d = read("trichometeo", "group"), form = count ~ 1 + (1 | group), terms = "group"),
  moths = list(d = read("moths", "habitat"), form = count ~ 1 + offset(log(meters)) + (1 | habitat), terms = "habitat"))
for (id in names(sets)) for (reml in c(FALSE, TRUE)) {
  s <- sets[[id]]
  r <- polished(s$form, s$d, nbinom2(), s$terms, reml)
  save(r, sprintf("open/%s_%s.json", id, if (reml) "reml" else "ml"))
  cat(id, if (reml) "reml" else "ml", unlist(r$fixed), "SD", unlist(r$sd), "theta", r$theta, "logLik", format(r$logLik, digits = 10), "grad", r$max_abs_grad, "\n")
}
