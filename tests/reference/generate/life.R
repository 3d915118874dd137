# Reference values for the life models, from Debian's R and r-cran-survival. Run from the repository's root:
#   Rscript tests/reference/generate/life.R > tests/reference/life.json
# Data: tests/reference/data/*.csv (their sources are in the README there).
suppressMessages(library(survival))
options(digits = 15)
folder <- "tests/reference/data/"
read <- function(name) {
  d <- read.csv(paste0(folder, name, ".csv"), check.names = FALSE, stringsAsFactors = FALSE)
  if (is.null(d$entry)) d$entry <- 0
  if (is.null(d$count)) d$count <- 1
  if (is.null(d$group)) d$group <- "all"
  d
}

# ---- JSON without a package -------------------------------------------------------------------
json <- function(x) {
  if (is.list(x)) {
    if (is.null(names(x))) return(paste0("[", paste(vapply(x, json, ""), collapse = ",\n"), "]"))
    return(paste0("{", paste(sprintf("%s:%s", vapply(names(x), quoted, ""), vapply(x, json, "")), collapse = ","), "}"))
  }
  one <- function(v) if (is.character(v)) quoted(v) else if (is.na(v) || is.infinite(v)) "null" else
    if (is.logical(v)) tolower(as.character(v)) else format(v, digits = 15, scientific = NA)
  if (length(x) == 1) return(one(x))
  paste0("[", paste(vapply(x, one, ""), collapse = ","), "]")
}
quoted <- function(s) paste0('"', gsub('"', '\\\\"', s), '"')

# ---- Weibull: survreg where it can, otherwise the likelihood written out -------------------------
# log-likelihood in (mu, log sigma), by pweibull and dweibull
loglik <- function(p, d) {
  shape <- exp(-p[2]); scale <- exp(p[1])
  S <- function(t) pweibull(t, shape, scale, lower.tail = FALSE)
  running <- is.na(d$upper); exact <- !running & d$upper == d$lower; mid <- !running & !exact
  l <- numeric(nrow(d))
  l[running] <- pweibull(d$lower[running], shape, scale, lower.tail = FALSE, log.p = TRUE)
  l[exact] <- dweibull(d$lower[exact], shape, scale, log = TRUE)
  l[mid] <- log(S(d$lower[mid]) - S(d$upper[mid]))
  sum(d$count * (l - pweibull(d$entry, shape, scale, lower.tail = FALSE, log.p = TRUE)))
}
top <- function(f, start, step = 0.3) {
  o <- optim(start, f, control = list(fnscale = -1, reltol = 1e-15, maxit = 5000))
  for (i in 1:4) o <- optim(o$par, f, control = list(fnscale = -1, reltol = 1e-15, maxit = 5000))
  o
}
weibull <- function(d) {
  late <- any(d$entry > 0)
  if (!late) {
    lower <- ifelse(d$lower == 0, NA, d$lower)
    fit <- survreg(Surv(lower, d$upper, type = "interval2") ~ 1, weights = d$count, dist = "weibull",
                   control = survreg.control(rel.tolerance = 1e-14, maxiter = 100))
    mu <- unname(coef(fit)); ls <- log(fit$scale); v <- vcov(fit); ll <- fit$loglik[1]
  } else {
    o <- top(function(p) loglik(p, d), c(log(1000), -1.5))
    mu <- o$par[1]; ls <- o$par[2]; ll <- o$value
    v <- solve(-optimHess(o$par, function(p) loglik(p, d), control = list(ndeps = c(1e-4, 1e-4))))
  }
  shape <- exp(-ls); scale <- exp(mu)
  drop <- qchisq(0.95, 1)
  # profile bounds: of log sigma, and of log t_p = mu + sigma log(-log(1-p))
  side <- function(profile, at, se, sign) {
    g <- function(u) 2 * (ll - profile(at + sign * u)) - drop
    top <- 2 * se; while (g(top) < 0 && top < 40) top <- top * 1.5
    if (g(top) < 0) return(NA)
    at + sign * uniroot(g, c(0.05 * se, top), tol = 1e-12)$root
  }
  shapeProfile <- function(q) optimize(function(m) loglik(c(m, q), d), mu + c(-6, 8), maximum = TRUE, tol = 1e-12)$objective
  lifeProfile <- function(p) function(q) {
    k <- log(-log(1 - p))
    optimize(function(s) loglik(c(q - exp(s) * k, s), d), ls + c(-4, 4), maximum = TRUE, tol = 1e-12)$objective
  }
  shapeSides <- exp(-c(side(shapeProfile, ls, sqrt(v[2, 2]), 1), side(shapeProfile, ls, sqrt(v[2, 2]), -1)))
  life <- function(p) {
    k <- log(-log(1 - p)); s <- exp(ls); q <- mu + s * k
    se <- sqrt(v[1, 1] + 2 * s * k * v[1, 2] + (s * k)^2 * v[2, 2])
    f <- lifeProfile(p)
    list(fraction = p, hours = exp(q), lower = exp(side(f, q, se, -1)), upper = exp(side(f, q, se, 1)))
  }
  list(lives = sum(d$count), shape = shape, scale = scale, logLikelihood = ll,
       covariance = list(logScale = v[1, 1], both = -v[1, 2], logShape = v[2, 2]),
       shapeStandardError = shape * sqrt(v[2, 2]), scaleStandardError = scale * sqrt(v[1, 1]),
       shapeBounds = shapeSides, livesAt = lapply(c(0.01, 0.05, 0.1, 0.5, 1 - exp(-1)), life),
       software = if (late) "the likelihood by pweibull and dweibull, optim and optimHess" else "survreg; bounds by uniroot on the likelihood")
}
others <- function(d) {
  lower <- ifelse(d$lower == 0, NA, d$lower)
  fit <- function(dist) {
    f <- survreg(Surv(lower, d$upper, type = "interval2") ~ 1, weights = d$count, dist = dist,
                 control = survreg.control(rel.tolerance = 1e-14, maxiter = 100))
    list(logLikelihood = f$loglik[1], mu = unname(coef(f)), sigma = f$scale)
  }
  list(lognormal = fit("lognormal"), exponential = fit("exponential"))
}

entries <- list()
for (name in c("ball-bearings", "bearing-cage", "handbook-small", "nist-8-4-1-3", "cosmesis", "heat-exchanger",
               "turbine-wheels", "retirement-home", "leukaemia", "three-temperatures")) {
  d <- read(name)
  groups <- unique(d$group)
  sets <- c(list(all = d), if (length(groups) > 1) setNames(lapply(groups, function(g) d[d$group == g, ]), groups))
  if (name == "heat-exchanger") sets <- sets[1:2] # plants 2 and 3 have too few events
  for (g in names(sets)) {
    e <- c(list(data = name, group = g), weibull(sets[[g]]))
    if (!any(d$entry > 0)) e <- c(e, others(sets[[g]]))
    entries <- c(entries, list(e))
  }
}

# ---- Kaplan-Meier ------------------------------------------------------------------------------
km <- function(name, group = NULL, from = 0) {
  d <- read(name)
  if (!is.null(group)) d <- d[d$group == group, ]
  d <- d[d$lower > from, ]; d$entry <- pmax(d$entry, from)
  f <- survfit(Surv(entry, lower, !is.na(upper)) ~ 1, data = d, weights = count, conf.type = "log-log", robust = FALSE)
  k <- f$n.event > 0
  list(data = name, group = if (is.null(group)) "all" else group, from = from, hours = f$time[k], survival = f$surv[k],
       standardError = f$std.err[k] * f$surv[k], lower = f$lower[k], upper = f$upper[k])
}
curves <- list(km("nist-8-2-1-5"), km("leukaemia", "6-MP"), km("ball-bearings"), km("retirement-home", "women"), km("retirement-home", "men", 781))

# ---- Turnbull, by a slow and obvious EM on the innermost intervals ------------------------------
turnbull <- function(d) {
  upper <- ifelse(is.na(d$upper), Inf, d$upper)
  e <- unique(rbind(data.frame(t = d$lower, right = 0), data.frame(t = upper, right = 1)))
  e <- e[order(e$t, -e$right), ]
  k <- which(e$right[-nrow(e)] == 0 & e$right[-1] == 1)
  low <- e$t[k]; high <- e$t[k + 1]
  A <- outer(seq_len(nrow(d)), seq_along(low), function(i, j) low[j] >= d$lower[i] & high[j] <= upper[i])
  p <- rep(1 / length(low), length(low))
  for (i in 1:400000) {
    m <- A %*% p
    new <- p * as.vector(crossprod(A, d$count / m)) / sum(d$count)
    if (max(abs(new - p)) < 1e-15) break
    p <- new
  }
  keep <- p > 1e-7
  list(logLikelihood = sum(d$count * log(A %*% p)), low = low[keep], high = high[keep], mass = p[keep])
}
d <- read("cosmesis")
turnbulls <- list(
  c(list(data = "cosmesis", group = "radiation"), turnbull(d[d$group == "radiation", ])),
  c(list(data = "cosmesis", group = "both"), turnbull(d[d$group == "both", ])),
  c(list(data = "heat-exchanger", group = "all"), turnbull(read("heat-exchanger"))),
  c(list(data = "turbine-wheels", group = "all"), turnbull(read("turbine-wheels"))))

# ---- Regression and comparisons -------------------------------------------------------------
regression <- function(name, formula, d = read(name)) {
  d$low <- ifelse(d$lower == 0, NA, d$lower)
  f <- survreg(as.formula(paste("Surv(low, upper, type = 'interval2') ~", formula)), data = d, weights = count, dist = "weibull",
               control = survreg.control(rel.tolerance = 1e-14, maxiter = 100))
  v <- vcov(f)
  list(data = name, formula = formula, coefficients = unname(coef(f)), standardErrors = unname(sqrt(diag(v))),
       logScale = log(f$scale), logLikelihood = f$loglik[2], nullLogLikelihood = f$loglik[1])
}
lk <- read("leukaemia"); lk$control <- as.numeric(lk$group == "control")
cs <- read("cosmesis"); cs$both <- as.numeric(cs$group == "both")
regressions <- list(regression("leukaemia", "control", lk), regression("cosmesis", "both", cs),
  regression("motor-insulation", "celsius"), regression("lung", "age + sex + ecog"),
  regression("three-temperatures", "I(group==105) + I(group==125)"))
lung <- read("lung"); lung$able <- lung$ecog == 0
effects <- list(regression("lung", "relevel(factor(sex), '1') + relevel(factor(able), 'FALSE')", lung),
  regression("lung", "relevel(factor(sex), '1') * relevel(factor(able), 'FALSE')", lung))
lr <- survdiff(Surv(lower, !is.na(upper)) ~ group, data = lk, rho = 0)
lungRank <- survdiff(Surv(lower, !is.na(upper)) ~ ecog, data = read("lung"))
ranks <- list(
  list(data = "leukaemia", by = "group", groups = sort(unique(lk$group)), chiSquared = lr$chisq, observed = lr$obs, expected = lr$exp),
  list(data = "lung", by = "ecog", groups = sort(unique(read("lung")$ecog)), chiSquared = lungRank$chisq, observed = lungRank$obs, expected = lungRank$exp))

# ---- Cumulative incidence: mgus2 of the survival package, as in its vignette on competing risks --
m <- survival::mgus2
etime <- with(m, ifelse(pstat == 0, futime, ptime))
event <- with(m, ifelse(pstat == 0, 2 * death, 1))
write.csv(data.frame(months = etime, event = event), paste0(folder, "mgus2.csv"), row.names = FALSE, quote = FALSE)
aj <- summary(survfit(Surv(etime, factor(event, 0:2, labels = c("censor", "pcm", "death"))) ~ 1, conf.type = "log-log"),
              times = c(60, 120, 180, 240, 300))
mode <- function(k) list(chance = aj$pstate[, k], standardError = aj$std.err[, k], lower = aj$lower[, k], upper = aj$upper[, k])
incidence <- list(data = "mgus2", months = aj$time, survival = aj$pstate[, 1], pcm = mode(2), death = mode(3))

# ---- One shape for all groups: its test against a stratum each, and its likelihood-ratio bounds ------------------
commonShape <- function(name) {
  d <- read(name); d$group <- factor(d$group)
  y <- Surv(ifelse(d$lower == 0, NA, d$lower), d$upper, type = "interval2")
  tight <- survreg.control(rel.tolerance = 1e-11, maxiter = 200)
  fit <- survreg(y ~ group, data = d, weights = count, dist = "weibull", control = tight)
  apart <- survreg(y ~ group + strata(group), data = d, weights = count, dist = "weibull", control = tight)
  # With the scale given, survreg goes on counting rounding as movement to the end, and says so; bounds agree to 1e-5.
  at <- function(shape) suppressWarnings(
    survreg(y ~ group, data = d, weights = count, dist = "weibull", scale = 1 / shape, control = tight))$loglik[2]
  shape <- 1 / fit$scale; top <- fit$loglik[2]
  side <- function(from, to) uniroot(function(u) 2 * (top - at(exp(u))) - qchisq(0.95, 1), log(c(from, to)), tol = 1e-12)$root
  test <- 2 * (apart$loglik[2] - top); free <- nlevels(d$group) - 1
  list(data = name, shape = shape, lower = exp(side(shape / 4, shape * 0.99)), upper = exp(side(shape * 1.01, shape * 4)),
       chiSquared = test, degreesOfFreedom = free, p = pchisq(test, free, lower.tail = FALSE))
}
commonShapes <- list(commonShape("three-temperatures"), commonShape("cosmesis"))

cat(json(list(
  about = "Reference values for the life models",
  software = paste("R", getRversion(), "survival", packageVersion("survival")),
  command = "Rscript tests/reference/generate/life.R > tests/reference/life.json",
  tolerance = list(estimate = 1e-8, standardError = 1e-6, bound = 1e-5, late = 2e-5,
    why = "survreg stops at a relative change of 1e-14; optim by Nelder-Mead (late entry) and numerical second derivatives leave less"),
  weibull = entries, kaplanMeier = curves, turnbull = turnbulls, regression = regressions, effects = effects, logRank = ranks,
  incidence = incidence, commonShape = commonShapes)), "\n", sep = "")
