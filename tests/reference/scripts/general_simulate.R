# Invented counts for the general model: data/slope.csv, data/visits.csv, data/weather.csv, data/correlated.csv.
# usage, in tests/reference: Rscript scripts/general_simulate.R
RNGkind("Mersenne-Twister", "Inversion", "Rejection")
write <- function(d, name) write.csv(d, sprintf("data/%s.csv", name), row.names = FALSE, quote = FALSE)
nb <- function(eta, k) rnbinom(length(eta), size = k, mu = exp(eta))

# slope: 24 sites by 8 years of totals; every site has its own trend. Site SD .7, slope SD .08 a year, year SD .25, k 3.
set.seed(20261201)
d <- expand.grid(year = 1:8, site = 1:24)
tc <- d$year - 4.5
eta <- log(15) - .03 * tc + rnorm(24, 0, .7)[d$site] + rnorm(24, 0, .08)[d$site] * tc + rnorm(8, 0, .25)[d$year]
write(data.frame(d[, c("site", "year")], count = nb(eta, 3)), "slope")

# visits: 10 sites by 5 years by 4 weeks by 3 traps of samples, about a tenth lost. Site SD .6, year .3, site-year .35,
# visit (site by year by week) .4, k 2.5; weeks have a mean of their own; exposure 4 to 7 days.
set.seed(20261202)
d <- expand.grid(trap = 1:3, week = 1:4, year = 1:5, site = 1:10)
d$days <- sample(4:7, nrow(d), TRUE)
sy <- matrix(rnorm(50, 0, .35), 10); v <- array(rnorm(200, 0, .4), c(10, 5, 4))
eta <- log(4) - .05 * (d$year - 3) + c(-.4, .3, .2, -.3)[d$week] + log(d$days / 7) + rnorm(10, 0, .6)[d$site] +
  rnorm(5, 0, .3)[d$year] + sy[cbind(d$site, d$year)] + v[cbind(d$site, d$year, d$week)]
d$count <- nb(eta, 2.5)
d <- d[runif(nrow(d)) > .1, ]
write(d[, c("site", "year", "week", "trap", "days", "count")], "visits")

# weather: 14 sites by 6 years by 5 weeks, Poisson; what the week brought is shared by all sites. Site SD .5, year .2, week
# in year .45, site-year .25; three site-years were not visited.
set.seed(20261203)
d <- expand.grid(week = 1:5, year = 1:6, site = 1:14)
sy <- matrix(rnorm(84, 0, .25), 14); wy <- matrix(rnorm(30, 0, .45), 6)
eta <- log(6) - .04 * (d$year - 3.5) + rnorm(14, 0, .5)[d$site] + rnorm(6, 0, .2)[d$year] + wy[cbind(d$year, d$week)] +
  sy[cbind(d$site, d$year)]
d$count <- rpois(nrow(d), exp(eta))
d <- d[!(paste(d$site, d$year) %in% c("2 3", "9 1", "14 6")), ]
write(d[, c("site", "year", "week", "count")], "weather")

# correlated: 16 sites at random places of a square of 10 km, by 10 years of which the sixth was not surveyed. Years follow
# an autoregression of order 1 with correlation .6 and SD .4, sites an exponential correlation of range 3 km and SD .7; k 4.
set.seed(20261204)
at <- cbind(runif(16, 0, 10), runif(16, 0, 10))
site <- drop(t(chol(exp(-as.matrix(dist(at)) / 3))) %*% rnorm(16, 0, .7))
year <- drop(t(chol(.6^abs(outer(1:10, 1:10, "-")))) %*% rnorm(10, 0, .4))
d <- expand.grid(year = c(1:5, 7:10), site = 1:16)
d$count <- nb(log(10) - .03 * (d$year - 5.5) + site[d$site] + year[d$year], 4)
d$km_east <- round(at[d$site, 1], 3); d$km_north <- round(at[d$site, 2], 3)
write(d[, c("site", "year", "km_east", "km_north", "count")], "correlated")
