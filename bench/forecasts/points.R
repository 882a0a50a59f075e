# What both scripts share: the homes as written by points.ts, and the way back.
#
# points.csv: home,date,gallons,point,five. One row a day of a home from its first to its last report, gallons empty
# where none came. `point` is 1 where the day is to be forecast from the days before it, `five` where the sum of it and
# the next four days is as well.

# Stops with status 3, which the caller takes for "not installed".
need <- function(package, debian) {
  if (!requireNamespace(package, quietly = TRUE)) {
    message("R has no package '", package, "': install Debian's ", debian, ".")
    quit(status = 3)
  }
}

read_points <- function(path) {
  days <- read.csv(path, colClasses = c("integer", "Date", "numeric", "integer", "integer"))
  split(days, days$home)
}

PROBABILITIES <- c(0.1, 0.5, 0.9)

# Rows of quantiles, one a point: a matrix of three columns.
quantile_rows <- function(family, home, date, days, quantiles) {
  data.frame(family, home, date, days, p10 = quantiles[, 1], p50 = quantiles[, 2], p90 = quantiles[, 3])
}

write_rows <- function(rows, path) {
  write.csv(rows, path, row.names = FALSE, quote = FALSE)
}

# Seconds of CPU of this process that an expression takes.
cpu <- function(expression) {
  before <- proc.time()
  force(expression)
  sum((proc.time() - before)[1:2])
}
