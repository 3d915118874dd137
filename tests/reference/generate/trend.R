# Reference values for trends over time. Run in the project's folder:  Rscript tests/reference/generate/trend.R
# Writes tests/reference/trend.json, and the recurrent events under tests/reference/data.
suppressPackageStartupMessages(library(survival))

digits <- function(x) paste0("[", paste(format(x, digits = 12, scientific = TRUE, trim = TRUE), collapse = ", "), "]")
folder <- "tests/reference/data/"

# Mean cumulative function. survfit drops a second event of one unit at one time, so of two the first is moved 1e-4 h ahead:
# the units at risk are the same, and the two jumps add up to the joint one.
mean_cumulative <- function(units) {
  rows <- list()
  for (id in unique(units$id)) {
    unit <- units[units$id == id, ]
    events <- sort(unit$time[unit$status == 1])
    repeated <- duplicated(events, fromLast = TRUE)
    events[repeated] <- events[repeated] - 1e-4
    end <- unit$time[unit$status == 0]
    entry <- unit$entry[1]
    stops <- c(events, if (length(events) == 0 || end > max(events)) end)
    starts <- c(entry, head(stops, -1))
    rows[[length(rows) + 1]] <- data.frame(id = id, start = starts, stop = stops,
      status = as.integer(stops %in% events))
  }
  d <- do.call(rbind, rows)
  fit <- survfit(Surv(start, stop, status) ~ 1, data = d, id = id, robust = TRUE)
  keep <- fit$n.event > 0
  at <- round(fit$time[keep])
  last <- !duplicated(at, fromLast = TRUE)
  list(hours = at[last], mean = fit$cumhaz[keep][last], se = fit$std.chaz[keep][last])
}

valve <- data.frame(id = valveSeat$id, entry = 0, time = valveSeat$time, status = valveSeat$status)
write.csv(valve, paste0(folder, "valve-seats.csv"), row.names = FALSE, quote = FALSE)

set.seed(3)
late <- do.call(rbind, lapply(1:25, function(id) {
  entry <- if (id %% 3 == 0) sample(50:300, 1) else 0
  end <- entry + sample(200:900, 1)
  events <- sort(sample((entry + 1):(end - 1), rpois(1, 2)))
  data.frame(id = id, entry = entry, time = c(events, end), status = c(rep(1, length(events)), 0))
}))
write.csv(late, paste0(folder, "late-entry-events.csv"), row.names = FALSE, quote = FALSE)

set_json <- function(name, units) {
  m <- mean_cumulative(units)
  sprintf('    { "set": "%s", "hours": %s,\n      "mean": %s,\n      "standardError": %s }', name,
    digits(m$hours), digits(m$mean), digits(m$se))
}

counts <- c(0:12, 15, 20, 57, 300)
limits <- sapply(counts, function(k) poisson.test(k, conf.level = 0.95)$conf.int)
means <- c(0.02, 0.5, 1, 2, 3, 5, 8, 10, 33.3, 250)

cat(sprintf('{
  "source": "R %s.%s, survival %s: survfit(robust), poisson.test, qpois",
  "command": "Rscript tests/reference/generate/trend.R",
  "tolerance": "1e-9 relative: closed forms and sums",
  "poisson": { "counts": %s, "lower95": %s,
    "upper95": %s },
  "limitCount": { "means": %s, "p95": %s, "p99": %s },
  "meanCumulative": [\n%s,\n%s\n  ]
}
', R.version$major, R.version$minor, as.character(packageVersion("survival")),
  digits(counts), digits(limits[1, ]), digits(limits[2, ]), digits(means), digits(qpois(0.95, means)),
  digits(qpois(0.99, means)), set_json("valve-seats", valve), set_json("late-entry-events", late)),
  file = "tests/reference/trend.json")
