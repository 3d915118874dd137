# The peer in R: the same exports read, slopes of components, environments compared, a Weibull fit a group with 95 %
# bounds, six charts, one page. What an analyst would write with data.table, survival and ggplot2: vectorised
# throughout, every column typed once, words and dates turned by their few levels and not row by row.
#
#   Rscript wear.R EXPORTS OUT
suppressPackageStartupMessages({
  library(data.table)
  library(survival)
  library(ggplot2)
})
setDTthreads(0) # every core; the default is half of them

arguments <- commandArgs(trailingOnly = TRUE)
exports <- arguments[1]
out <- arguments[2]
dir.create(out, recursive = TRUE, showWarnings = FALSE)

environments <- c(
  "Saltpan North" = "sandy", "Saltpan South" = "sandy", Coast = "coastal", Highland = "highland", Valley = "temperate"
)
standards <- c(P = "plain", S = "shielded")
part_of <- c("GB-100-1" = "grip bearing", "GB-100-3" = "grip bearing", "LB-220-1" = "link bearing")
limit_mm <- c("grip bearing" = 0.50, "link bearing" = 0.30)

# ---- Reading -------------------------------------------------------------------------------------------------------
read_kind <- function(kind, sep, dec, text, encoding = "unknown") {
  files <- sort(list.files(exports, pattern = paste0("^", kind, "-.*\\.csv$"), full.names = TRUE))
  if (length(files) == 0) stop("no ", kind, " export in ", exports)
  rbindlist(lapply(
    files, fread,
    sep = sep, dec = dec, encoding = encoding, colClasses = list(factor = text), showProgress = FALSE,
    drop = if (kind == "wear") "Remarks"
  ))
}
by_level <- function(column, change) change(levels(column))[as.integer(column)]
recode <- function(column, words) factor(by_level(column, function(l) words[l]), levels = unique(words))
german_day <- function(levels) as.IDate(levels, format = "%d.%m.%Y")

wear <- read_kind("wear", ";", ",", c("Serial", "Inspected", "Wear [mm]", "Tail", "Part no", "Arm", "Base", "Ring"), "Latin-1")
gaps <- read_kind("gaps", ",", ".", c("Tail", "Arm", "Date", "State", "Ring"))
removals <- read_kind(
  "removals", ";", ".", c("Serial", "Part no", "Removed", "Reason", "Found", "Shop finding", "Tail", "Arm", "Base", "Ring")
)
installed <- read_kind("installed", ";", ",", c("Serial", "Part no", "Installed", "Tail", "Arm", "Base", "Ring"), "Latin-1")
flying <- read_kind("flying", ",", ".", c("Month", "Tail", "Base"))

setnames(wear, c("Wear [mm]", "Part no", "Hours"), c("word", "number", "hours"))
wear[, `:=`(
  part = recode(number, part_of),
  environment = recode(Base, environments),
  standard = recode(Ring, standards),
  day = by_level(Inspected, german_day),
  wear_mm = suppressWarnings(by_level(word, function(l) as.numeric(sub(",", ".", l, fixed = TRUE)))),
  in_words_over = by_level(word, function(l) l == "US")
)]
wear[, over := (!is.na(wear_mm) & wear_mm >= limit_mm[as.character(levels(part))][as.integer(part)]) | in_words_over]
wear[, component := .GRP, by = .(part, Serial)]
setkey(wear, component, hours)

# ---- Slopes of components, environments compared -------------------------------------------------------------------
read <- wear[!is.na(wear_mm), .(component, part, environment, standard, h = hours, w = wear_mm)]
read[, `:=`(h2 = h * h, hw = h * w)]
slopes <- read[, .(n = .N, h = sum(h), w = sum(w), h2 = sum(h2), hw = sum(hw)),
  by = .(component, part, environment, standard)
]
slopes[, rate := 1000 * (hw - h * w / n) / (h2 - h * h / n)]
steady <- slopes[n >= 3 & is.finite(rate) & rate > 0]
comparisons <- rbindlist(lapply(levels(wear$part), function(one) {
  fit <- lm(log(rate) ~ environment + standard, data = steady[part == one])
  bounds <- confint(fit, level = 0.95)
  data.table(part = one, term = rownames(bounds), ratio = exp(coef(fit)), lower = exp(bounds[, 1]), upper = exp(bounds[, 2]))
}))

# ---- Lives: over the limit somewhere since the last good look ------------------------------------------------------
found <- wear[over == TRUE, .(found = first(hours)), by = component]
wear[found, found := i.found, on = "component"]
good <- wear[is.na(found) | hours < found, .(lower = last(hours)), by = component]
last_look <- wear[, .(part = last(part), environment = last(environment), standard = last(standard)), by = component]
lives <- good[found[last_look, on = "component"], on = "component"]
lives[is.na(lower), lower := 0]
lives <- lives[lower > 0 | !is.na(found)]
weibull_of <- function(group) {
  start <- fifelse(group$lower > 0, group$lower, NA_real_) # NA: left-censored
  if (sum(!is.na(group$found)) < 3) return(NULL)
  fit <- survreg(Surv(start, group$found, type = "interval2") ~ 1, dist = "weibull")
  bounds <- confint(fit, level = 0.95)
  log_scale_se <- sqrt(vcov(fit)[2, 2])
  ten <- predict(fit, newdata = data.frame(x = 1), type = "uquantile", p = 0.1, se.fit = TRUE)
  list(
    lives = nrow(group), events = sum(!is.na(group$found)),
    shape = 1 / fit$scale, shape_lower = exp(-log(fit$scale) - 1.959964 * log_scale_se),
    shape_upper = exp(-log(fit$scale) + 1.959964 * log_scale_se),
    scale = exp(coef(fit)[[1]]), scale_lower = exp(bounds[1, 1]), scale_upper = exp(bounds[1, 2]),
    ten_percent = exp(ten$fit[[1]]), ten_lower = exp(ten$fit[[1]] - 1.959964 * ten$se.fit[[1]]),
    ten_upper = exp(ten$fit[[1]] + 1.959964 * ten$se.fit[[1]])
  )
}
weibulls <- lives[, weibull_of(.SD), by = .(part, environment, standard)]

# ---- Removals, gaps, roster ----------------------------------------------------------------------------------------
removals[, month := by_level(Removed, function(l) format(german_day(l), "%Y-%m"))]
flown <- flying[, .(hours = sum(Hours)), keyby = .(month = as.character(Month))]
removal_rate <- removals[, .(removals = .N), by = .(month, Reason)][flown, on = "month"][!is.na(Reason)]
removal_rate[, `:=`(
  rate = 1000 * removals / hours,
  lower = 1000 * qchisq(0.025, 2 * removals) / 2 / hours, upper = 1000 * qchisq(0.975, 2 * removals + 2) / 2 / hours
)]
gaps[, quarter := by_level(Date, function(l) paste0(substr(l, 1, 4), "-", quarters(as.IDate(l))))]
gap_medians <- gaps[, .(gap = median(Gap)), keyby = .(quarter, Ring, State)]
roster <- installed[, .(fitted = .N, oldest = max(`Hours now`)), keyby = .(part = recode(`Part no`, part_of), Base)]

# ---- Six charts and a page -----------------------------------------------------------------------------------------
curves <- weibulls[, {
  at <- seq(0, 1.5 * scale, length.out = 200)
  .(hours = at, survival = exp(-(at / scale)^shape))
}, by = .(part, environment, standard)]
steps <- lives[, {
  curve <- survfit(Surv(fifelse(is.na(found), lower, found), !is.na(found)) ~ 1)
  keep <- unique(round(seq(1, length(curve$time), length.out = min(500, length(curve$time)))))
  .(hours = curve$time[keep], survival = curve$surv[keep])
}, by = .(part, environment, standard)]
charts <- list(
  "Wear against hours" = ggplot(read, aes(h, w)) + geom_bin2d(bins = 60) + facet_grid(part ~ environment, scales = "free_y"),
  "Rates of components" = ggplot(steady, aes(rate, fill = standard)) + geom_histogram(bins = 60) + scale_x_log10() +
    facet_grid(part ~ environment, scales = "free_y"),
  "Rate ratios with 95 % bounds" = ggplot(comparisons[term != "(Intercept)"], aes(ratio, term, xmin = lower, xmax = upper)) +
    geom_pointrange() + facet_wrap(~part),
  "Lives: Weibull and Kaplan-Meier" = ggplot(curves, aes(hours, survival, colour = standard)) + geom_line() +
    geom_step(data = steps, linewidth = 0.2) + facet_grid(part ~ environment),
  "Removals per 1000 flight hours" = ggplot(removal_rate, aes(month, rate, ymin = lower, ymax = upper, colour = Reason)) +
    geom_pointrange(size = 0.1),
  "Seal gaps by quarter" = ggplot(gap_medians, aes(quarter, gap, colour = interaction(Ring, State), group = interaction(Ring, State))) +
    geom_line()
)
for (i in seq_along(charts)) {
  png(file.path(out, paste0("chart-", i, ".png")), width = 1000, height = 600)
  print(charts[[i]])
  dev.off()
}
as_table <- function(rows) {
  shown <- as.data.table(lapply(rows, function(x) if (is.numeric(x)) signif(x, 5) else as.character(x)))
  line <- function(cells, tag) paste0("<tr>", paste0("<", tag, ">", cells, "</", tag, ">", collapse = ""), "</tr>")
  body <- if (nrow(shown) > 0) vapply(seq_len(nrow(shown)), function(i) line(unlist(shown[i]), "td"), "") else ""
  paste0("<table>", line(names(shown), "th"), paste(body, collapse = "\n"), "</table>")
}
figures <- sprintf('<h2>%s</h2><img src="chart-%d.png" alt="%s">', names(charts), seq_along(charts), names(charts))
writeLines(c(
  "<!doctype html><meta charset='utf-8'><title>Wear</title>", as_table(weibulls), as_table(comparisons), as_table(roster), figures
), file.path(out, "page.html"))
cat(nrow(wear), "looks,", nrow(read), "readings,", uniqueN(slopes$component), "components,", nrow(lives), "lives,", nrow(weibulls), "fits\n")
