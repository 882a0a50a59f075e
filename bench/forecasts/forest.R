# A quantile regression forest, ranger, pooled over homes: use relative to a home's own running mean, from what an analyst
# would look at in its past days.
#
# usage: Rscript forest.R POINTS.csv QUANTILES.csv COSTS.csv [next-day]
#
# Two honest ways to pool:
#   other homes   five groups of homes; each is forecast by a forest of the other four, their whole records: what a
#                 forest tells of a home that is new to it
#   days before   one forest a month, of all homes' days before it, the home's own past among them
# One forest for the next day, one for the sum of five; with `next-day` only that of the days before, for the next day. Where a day is missing, the running mean stands for it. What the
# features cost is not counted in the times.

script <- sub("^--file=", "", grep("^--file=", commandArgs(), value = TRUE)[1])
source(file.path(dirname(script), "points.R"))
need("ranger", "r-cran-ranger")
library(ranger)
args <- commandArgs(trailingOnly = TRUE)

# Chosen on two of the five groups, in the forest's own favour: of 50 to 500 trees, least nodes of 10 to 200, 4 to 9
# features a split, and use as it is or its root, about the best that grows within some minutes.
TREES <- 200
LEAST_NODE <- 150
SPLIT_FEATURES <- 8
SHARE_A_TREE <- 0.6
# A day may teach when its home has reported this many before it.
TEACHES_AFTER <- 28
FOLDS <- 5
# For the one day of each leaf that ranger keeps; the trees have a seed of their own.
set.seed(1)

# Mean of the last `days` reported days before each day.
mean_before <- function(g, days) {
  sapply(seq_along(g), function(i) {
    past <- g[seq_len(i - 1)]
    past <- past[!is.na(past)]
    if (length(past) == 0) NA else mean(tail(past, days))
  })
}

# One row a reported day with enough of a past: features known the evening before, and what came.
rows_of <- function(home) {
  g <- home$gallons
  n <- length(g)
  reported <- !is.na(g)
  before <- c(0, cumsum(reported)[-n])
  month <- mean_before(g, 28)
  # A home long empty has next to no running mean: a quarter of its mean so far is the least.
  scale <- pmax(month, 0.25 * mean_before(g, n), 1e-6)
  filled <- ifelse(reported, g, scale)
  lag <- function(k) c(rep(NA, k), filled)[seq_len(n)] / scale
  low <- ifelse(reported, g < 0.2 * scale, FALSE)
  # The 28 days before each, missing days left out.
  month_of <- function(of) sapply(seq_len(n), function(i) {
    past <- g[seq(max(1, i - 28), length.out = min(28, i - 1))] / scale[i]
    past <- past[!is.na(past)]
    if (length(past) < 2) NA else of(past)
  })
  since <- function(when) {
    last <- cummax(ifelse(when, seq_len(n), 0))
    pmin(60, seq_len(n) - c(0, last[-n]))
  }
  lags <- setNames(lapply(1:7, lag), paste0("lag", 1:7))
  weeks <- setNames(lapply(c(14, 21, 28), lag), paste0("lag", c(14, 21, 28)))
  features <- data.frame(
    lags, weeks,
    weekday_mean = rowMeans(cbind(lag(7), lag(14), lag(21), lag(28))),
    mean3 = mean_before(g, 3) / scale,
    mean7 = mean_before(g, 7) / scale,
    mean14 = mean_before(g, 14) / scale,
    mean28 = month / scale,
    deviation = month_of(sd),
    p10 = month_of(function(x) quantile(x, 0.1, names = FALSE)),
    p50 = month_of(median),
    p90 = month_of(function(x) quantile(x, 0.9, names = FALSE)),
    low_share = month_of(function(x) mean(x < 0.2)),
    since_low = since(low),
    since_report = since(reported),
    weekday = as.integer(format(home$date, "%u")),
    month = as.integer(format(home$date, "%m"))
  )
  # NA where one of the five is missing.
  next_five <- if (n >= 5) c(rowSums(embed(g, 5)), rep(NA, 4)) else rep(NA, n)
  data.frame(
    home = home$home, date = home$date, scale,
    one = g / scale, five = next_five / (5 * scale),
    point_one = home$point == 1, point_five = home$five == 1, features
  )[reported & before >= TEACHES_AFTER, ]
}

rows <- do.call(rbind, lapply(read_points(args[1]), rows_of))
FEATURES <- names(rows)[-(1:7)]
rows[FEATURES] <- lapply(rows[FEATURES], function(x) ifelse(is.na(x), 1, x))
message("forest: ", nrow(rows), " rows of ", length(FEATURES), " features")

grow <- function(teaching, target) {
  ranger(
    x = teaching[FEATURES], y = sqrt(teaching[[target]]), num.trees = TREES, min.node.size = LEAST_NODE,
    mtry = SPLIT_FEATURES, replace = FALSE, sample.fraction = SHARE_A_TREE, quantreg = TRUE, num.threads = 1, seed = 1,
    verbose = FALSE
  )
}
ask <- function(forest, asked) {
  predict(forest, asked[FEATURES], type = "quantiles", quantiles = PROBABILITIES, num.threads = 1)$predictions^2
}

all_quantiles <- list()
all_costs <- list()

# Forecasts `asked` with a forest of `teaching`; what each step took goes to the costs.
forecast_part <- function(family, target, teaching, asked) {
  # With few homes a group may be empty.
  if (nrow(asked) == 0 || nrow(teaching) == 0) return(invisible())
  days <- if (target == "one") 1 else 5
  growing <- cpu(forest <- grow(teaching, target))
  asking <- cpu(relative <- ask(forest, asked))
  some <- seq_len(min(nrow(asked), 4))
  singly <- cpu(for (i in some) ask(forest, asked[i, ])) / length(some)
  quantiles <- pmax(relative * asked$scale * days, 0)
  all_quantiles[[length(all_quantiles) + 1]] <<- quantile_rows(family, asked$home, asked$date, days, quantiles)
  all_costs[[length(all_costs) + 1]] <<- data.frame(family, days, n = nrow(asked), growing, asking, singly)
}

next_day_only <- identical(args[4], "next-day")
for (target in if (next_day_only) "one" else c("one", "five")) {
  known <- rows[!is.na(rows[[target]]), ]
  point <- known[[paste0("point_", target)]]
  fold <- match(known$home, unique(rows$home)) %% FOLDS
  for (each in if (next_day_only) NULL else seq_len(FOLDS) - 1) {
    forecast_part("forest (other homes)", target, known[fold != each, ], known[point & fold == each, ])
    message("forest: ", target, ", group ", each + 1)
  }
  # The five days of a sum must be over before it may teach.
  told <- known$date + if (target == "one") 0 else 4
  first_of <- as.Date(format(known$date, "%Y-%m-01"))
  for (month in as.list(sort(unique(first_of[point])))) {
    asked <- known[point & first_of == month, ]
    # Grown on the day of the month's first point, most often the first.
    forecast_part("forest (days before)", target, known[told < min(asked$date), ], asked)
    message("forest: ", target, ", ", month)
  }
}
write_rows(do.call(rbind, all_quantiles), args[2])

costs <- do.call(rbind, all_costs)
write_rows(do.call(rbind, lapply(split(costs, list(costs$family, costs$days), drop = TRUE), function(part) {
  n <- sum(part$n)
  data.frame(
    family = part$family[1], days = part$days[1], how = c("one a call", "in batches", "in batches with refitting"),
    microseconds = 1e6 * c(weighted.mean(part$singly, part$n), sum(part$asking) / n, sum(part$asking + part$growing) / n)
  )
})), args[3])
