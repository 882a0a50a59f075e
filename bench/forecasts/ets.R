# R's exponential smoothing, forecast::ets, one model a home, rolled one day at a time.
#
# usage: Rscript ets.R POINTS.csv QUANTILES.csv COSTS.csv
#
# The form of the model (trend, weekday pattern; by AICc) and its parameters are chosen anew every REFIT_DAYS days from
# all the home's days so far; in between it is led on over the new days with its parameters held. Only additive forms:
# ets itself takes no others for homes with a day of zero, and with them the intervals of a home that only comes near
# zero can explode (one of 46 did, to ten thousand times its use; the others came out the same). Gaps are filled in a
# straight line between the days reported about them (a day is only forecast from reports before it); over a gap that
# is still open it forecasts further ahead. Quantiles of one day are those of forecast(): normal, cut at 0. Those of five
# days: normal with the exact variance of the sum.

script <- sub("^--file=", "", grep("^--file=", commandArgs(), value = TRUE)[1])
source(file.path(dirname(script), "points.R"))
need("forecast", "r-cran-forecast")
suppressMessages(library(forecast))
args <- commandArgs(trailingOnly = TRUE)

REFIT_DAYS <- 14
Z <- qnorm(PROBABILITIES)

normal_quantiles <- function(mean, deviation) pmax(0, mean + Z * deviation)

one_day <- function(fit, ahead) {
  f <- forecast(fit, h = ahead, level = 80)
  normal_quantiles(f$mean[ahead], (f$upper[ahead] - f$lower[ahead]) / (2 * Z[3]))
}

# Effect of a day's error on the forecast of the j-th day after it (Hyndman et al. 2008, class 1: from memory, unverified;
# but the deviations of sums agree with those of 6,000 paths of simulate() within 2 %, for each form of model).
responses <- function(fit, days) {
  par <- fit$par
  of <- function(name) if (name %in% names(par)) par[[name]] else 0
  phi <- if ("phi" %in% names(par)) par[["phi"]] else 1
  j <- seq_len(days - 1)
  c(1, of("alpha") + of("beta") * cumsum(phi^j) + of("gamma") * (j %% 7 == 0))[seq_len(days)]
}

five_days <- function(fit, ahead) {
  last <- ahead + 4
  effect <- responses(fit, last)
  # What the error of day i adds to the sum of the days from `ahead` to `last`.
  total <- sapply(seq_len(last), function(i) sum(effect[seq(max(ahead, i), last) - i + 1]))
  mean <- sum(forecast(fit, h = last, PI = FALSE)$mean[ahead:last])
  normal_quantiles(mean, sqrt(fit$sigma2 * sum(total^2)))
}

fit_ets <- function(y) ets(y, additive.only = TRUE)

series <- function(y, to) ts(y[seq_len(to)], frequency = 7)

roll <- function(home) {
  reported <- which(!is.na(home$gallons))
  y <- approx(reported, home$gallons[reported], seq_len(nrow(home)))$y
  points <- which(home$point == 1)
  # The last reported day before each point, and how many days the point lies beyond it.
  origins <- reported[findInterval(points - 1, reported)]
  ahead <- points - origins
  # Fitted where REFIT_DAYS have passed since the last fit.
  fitted_at <- Reduce(function(at, now) if (now - at >= REFIT_DAYS) now else at, origins, accumulate = TRUE)
  fits <- list()
  fitting <- cpu(for (at in unique(fitted_at)) fits[[as.character(at)]] <- fit_ets(series(y, at)))
  led <- vector("list", length(points))
  leading <- cpu(for (i in seq_along(points)) {
    fit <- fits[[as.character(fitted_at[i])]]
    led[[i]] <- ets(series(y, origins[i]), model = fit, use.initial.values = TRUE)
  })
  five <- which(home$five[points] == 1)
  forecasting <- cpu(ones <- t(mapply(one_day, led, ahead)))
  summing <- cpu(fives <- t(mapply(five_days, led[five], ahead[five])))
  message("ets: home ", home$home[1], ", ", length(fits), " fits")
  rows <- rbind(
    quantile_rows("ets", home$home[1], home$date[points], 1, ones),
    quantile_rows("ets", home$home[1], home$date[points[five]], 5, fives)
  )
  list(rows = rows, costs = c(fitting, leading, forecasting, summing, length(fits), length(points), length(five)))
}

homes <- lapply(read_points(args[1]), roll)
write_rows(do.call(rbind, lapply(homes, `[[`, "rows")), args[2])
costs <- Reduce(`+`, lapply(homes, `[[`, "costs"))
names(costs) <- c("fitting", "leading", "forecasting", "summing", "fits", "points", "fives")
cost <- function(days, seconds) data.frame(
  family = "ets", days, how = c("alone", "with refitting", "fitted anew each day"),
  microseconds = 1e6 * (seconds + costs[["fitting"]] * c(0, 1 / costs[["points"]], 1 / costs[["fits"]]))
)
write_rows(rbind(
  cost(1, (costs[["leading"]] + costs[["forecasting"]]) / costs[["points"]]),
  cost(5, costs[["leading"]] / costs[["points"]] + costs[["summing"]] / costs[["fives"]])
), args[3])
