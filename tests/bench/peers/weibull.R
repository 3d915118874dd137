# One Weibull fit of survreg, timed inside this process.
#
#   Rscript weibull.R LIVES.csv TIMES      prints JSON
suppressPackageStartupMessages({
  library(data.table)
  library(survival)
})
arguments <- commandArgs(trailingOnly = TRUE)
lives <- fread(arguments[1], colClasses = c("numeric", "numeric")) # an empty upper becomes NA: still running
observed <- if (anyNA(lives$upper) && all(is.na(lives$upper) | lives$lower == lives$upper)) {
  Surv(lives$lower, !is.na(lives$upper))
} else {
  Surv(fifelse(lives$lower > 0, lives$lower, NA_real_), lives$upper, type = "interval2")
}
seconds <- numeric(as.integer(arguments[2]))
for (i in seq_along(seconds)) {
  started <- proc.time()[["elapsed"]]
  fit <- survreg(observed ~ 1, dist = "weibull")
  seconds[i] <- proc.time()[["elapsed"]] - started
}
cat(sprintf(
  '{"seconds":[%s],"shape":%.12g,"scale":%.12g,"log_likelihood":%.12g}\n',
  paste(format(seconds, scientific = FALSE), collapse = ","), 1 / fit$scale, exp(coef(fit)[[1]]), fit$loglik[2]
))
