# Reference values for the random-slope model. Run in the project's folder:  Rscript tests/reference/generate/wear.R
# Writes tests/reference/wear.json, and the two simulated sets under tests/reference/data (fixed seeds).
suppressPackageStartupMessages(library(nlme))

folder <- "tests/reference/data/"
write_set <- function(name, data) {
  data$wear <- round(data$wear, 4)
  write.csv(data, paste0(folder, name, ".csv"), row.names = FALSE, quote = FALSE)
}

simulate <- function(seed, components, intercept_sd, rate_sd, correlation, scatter, rate = 0.5) {
  set.seed(seed)
  rows <- list()
  for (i in seq_len(components)) {
    n <- sample(1:7, 1)
    hours <- round(cumsum(runif(n, 250, 650)))
    z <- rnorm(2)
    u <- intercept_sd * z[1]
    v <- rate_sd * (correlation * z[1] + sqrt(1 - correlation^2) * z[2])
    wear <- 0.03 + u + (rate + v) / 1000 * hours + rnorm(n, 0, scatter)
    rows[[i]] <- data.frame(component = i, hours = hours, wear = wear)
  }
  do.call(rbind, rows)
}

write_set("wear-unbalanced", simulate(11, 60, 0.015, 0.15, -0.3, 0.02))
write_set("wear-no-slope-variance", simulate(5, 40, 0.03, 0, 0, 0.03))
write_set("wear-correlation-one", simulate(8, 40, 0.02, 0.02, 1, 0.02))

digits <- function(x) format(x, digits = 12, scientific = TRUE, trim = TRUE)
fit_set <- function(name, note) {
  data <- read.csv(paste0(folder, name, ".csv"))
  # nlme asks for hours of a sensible size; rates are scaled back.
  scale <- if (max(data$hours) > 100) 1000 else 1
  data$h <- data$hours / scale
  fit <- lme(wear ~ h, random = ~ h | component, data = data, method = "REML",
    control = lmeControl(maxIter = 500, msMaxIter = 500, niterEM = 100, tolerance = 1e-12, msTol = 1e-14,
      opt = "optim", returnObject = TRUE, optimMethod = "BFGS", reltol = 1e-15))
  vc <- VarCorr(fit)
  s <- summary(fit)$tTable
  ci <- intervals(fit, which = "fixed")$fixed
  # The likelihood of hours in other units differs by the log of the unit.
  log_lik <- as.numeric(logLik(fit)) - log(scale)
  sprintf(paste0('    { "set": "%s", "note": "%s", "log_likelihood": %s, "df": %d,\n',
    '      "intercept": [%s, %s, %s, %s], "rate_per_1000h": [%s, %s, %s, %s],\n',
    '      "sd_intercept": %s, "sd_rate_per_1000h": %s, "correlation": %s, "sd_measurement": %s }'),
    name, note, digits(log_lik), s[2, "DF"],
    digits(s[1, 1]), digits(s[1, 2]), digits(ci[1, 1]), digits(ci[1, 3]),
    digits(s[2, 1] * 1000 / scale), digits(s[2, 2] * 1000 / scale),
    digits(ci[2, 1] * 1000 / scale), digits(ci[2, 3] * 1000 / scale),
    digits(attr(corMatrix(fit$modelStruct$reStruct)[[1]], "stdDev")[[1]] * fit$sigma),
    digits(attr(corMatrix(fit$modelStruct$reStruct)[[1]], "stdDev")[[2]] * fit$sigma * 1000 / scale),
    digits(corMatrix(fit$modelStruct$reStruct)[[1]][1, 2]), digits(fit$sigma))
}

sets <- c(
  fit_set("sleepstudy", "balanced, 18 components of 10 readings"),
  fit_set("wear-unbalanced", "60 components of 1 to 7 readings"),
  fit_set("wear-no-slope-variance", "the best slope variance is zero: only the likelihood and fixed effects are comparable"),
  fit_set("wear-correlation-one", "the best correlation is on its edge: only the likelihood and fixed effects are comparable"))
cat(sprintf(paste0('{\n  "source": "R %s.%s, nlme %s: lme(wear ~ hours, random = ~ hours | component, method = REML)",\n',
  '  "command": "Rscript tests/reference/generate/wear.R",\n',
  '  "tolerance": "1e-6 relative: nlme stops its search there",\n  "sets": [\n%s\n  ]\n}\n'),
  R.version$major, R.version$minor, packageVersion("nlme"), paste(sets, collapse = ",\n")),
  file = "tests/reference/wear.json")

# The joint model: two standards, three environments (components move), a slope by aircraft.
set.seed(17)
joint <- list()
component <- 0
for (tail in 1:24) {
  aircraft_slope <- rnorm(1, 0, 0.06)
  for (k in 1:4) {
    component <- component + 1
    standard <- ifelse((tail + k) %% 3 == 0, "plain", "shielded")
    rates <- c(sandy = 0.62, coastal = 0.35, temperate = 0.22) * ifelse(standard == "plain", 1.8, 1)
    u <- rnorm(1, 0, 0.01); v <- rnorm(1, 0, 0.05)
    flown <- c(0, 0, 0)
    for (j in 1:sample(2:6, 1)) {
      home <- ((tail + ifelse(j > 3, 1, 0)) %% 3) + 1
      flown[home] <- flown[home] + round(runif(1, 150, 350))
      away <- sample(1:3, 1)
      flown[away] <- flown[away] + round(runif(1, 0, 120))
      wear <- 0.02 + ifelse(standard == "plain", 0.01, 0) + u +
        sum((rates + v + aircraft_slope) * flown / 1000) + rnorm(1, 0, 0.015)
      joint[[length(joint) + 1]] <- data.frame(component = component, aircraft = tail, standard = standard,
        sandy = flown[1], coastal = flown[2], temperate = flown[3], wear = round(wear, 4))
    }
  }
}
joint <- do.call(rbind, joint)
write.csv(joint, paste0(folder, "wear-joint.csv"), row.names = FALSE, quote = FALSE)
joint$h <- (joint$sandy + joint$coastal + joint$temperate) / 1000
joint$p <- as.numeric(joint$standard == "plain"); joint$s <- 1 - joint$p
fixed <- wear ~ 0 + p + s + I(sandy/1000*p) + I(sandy/1000*s) + I(coastal/1000*p) + I(coastal/1000*s) +
  I(temperate/1000*p) + I(temperate/1000*s)
fit <- lme(fixed, random = list(aircraft = pdDiag(~ 0 + h), component = pdSymm(~ h)), data = joint, method = "REML",
  control = lmeControl(maxIter = 500, msMaxIter = 500, niterEM = 100, tolerance = 1e-12, msTol = 1e-14,
    opt = "optim", returnObject = TRUE))
vc <- VarCorr(fit)
sds <- as.numeric(vc[, "StdDev"]); sds <- sds[!is.na(sds)]
b <- fixef(fit); V <- fit$varFix
cat(sprintf(paste0('{\n  "source": "R %s.%s, nlme %s: lme with a slope by aircraft, intercept and slope by component",\n',
  '  "command": "Rscript tests/reference/generate/wear.R",\n  "tolerance": "1e-5 relative",\n',
  '  "order": ["intercept plain", "intercept shielded", "sandy plain", "sandy shielded", "coastal plain", ',
  '"coastal shielded", "temperate plain", "temperate shielded"],\n',
  '  "log_likelihood": %s,\n  "fixed": [%s],\n  "standard_errors": [%s],\n  "sd_aircraft_slope": %s,\n',
  '  "sd_component_intercept": %s,\n  "sd_component_slope": %s,\n  "sd_measurement": %s\n}\n'),
  R.version$major, R.version$minor, packageVersion("nlme"), digits(as.numeric(logLik(fit))),
  paste(digits(b), collapse = ", "), paste(digits(sqrt(diag(V))), collapse = ", "),
  digits(sds[1]), digits(sds[2]), digits(sds[3]), digits(fit$sigma)), file = "tests/reference/wear-joint.json")
