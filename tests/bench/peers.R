# The peers' side: what general-purpose R does with the same trials, each step timed by proc.time
# inside R (its start and the loading of packages are not counted).
#   Rscript peers.R TRIALS.csv RESULTS SIMULATED
# Writes to RESULTS lines of `time step seconds` (a trial, a fit or an estimate) and of
# `value trial treatment name number`.
suppressMessages(library(survival))
args <- commandArgs(TRUE)
out <- file(args[2], "w")
cpu <- function() { p <- proc.time(); p[["user.self"]] + p[["sys.self"]] }
tell <- function(step, seconds) cat(sprintf("time\t%s\t%.9g\n", step, seconds), file = out)

# One pass first (R compiles what it has run), then passes until they are long enough to time.
timed <- function(step, per_pass, pass) {
  kept <- pass(); passes <- 0; t0 <- cpu()
  repeat { pass(); passes <- passes + 1; if (cpu() - t0 >= 0.4) break }
  tell(step, (cpu() - t0)/passes/per_pass); kept }

# Reading, days, new emergences; each treatment's trays pooled, equal intervals counted together.
prepare <- function() {
  d <- read.csv(args[1], stringsAsFactors = FALSE)
  d$day <- as.integer(as.Date(d$counted_on) - as.Date(d$sown_on))
  before <- function(x) c(0L, x[-length(x)])
  d$new <- d$emerged - ave(d$emerged, d$sowing, FUN = before)
  d$left <- ave(d$day, d$sowing, FUN = before)
  lapply(split(d, d$trial), function(x) lapply(split(x, x$treatment), function(y) {
    last <- !duplicated(y$sowing, fromLast = TRUE)
    k <- y$new > 0
    l <- c(y$left[k], y$day[last]); r <- c(y$day[k], rep(Inf, sum(last)))
    n <- c(y$new[k], y$seeds[last] - y$emerged[last])
    p <- rowsum(n, l + 1000*ifelse(is.finite(r), r, 999)); p <- p[p[, 1] > 0, , drop = FALSE]
    key <- as.numeric(rownames(p)); pr <- key %/% 1000
    list(l = key %% 1000, r = ifelse(pr == 999, Inf, pr), n = p[, 1], days = sort(unique(y$day)),
         N = sum(y$seeds[last]), X = sum(y$emerged[last]))
  })) }
count <- length(unique(read.csv(args[1], stringsAsFactors = FALSE)$trial))
trials <- timed("read", count, prepare)
run <- function(step, per_trial, f) timed(step, per_trial*count, function() lapply(trials, f))

intervals <- run("intervals", 1, function(t) lapply(t, function(g)
  c(prop.test(g$X, g$N, correct = FALSE)$conf.int, binom.test(g$X, g$N)$conf.int)))
indices <- run("indices", 1, function(t) lapply(t, function(g) {
  k <- is.finite(g$r); s <- tapply(g$n[k], factor(g$r[k], levels = g$days), sum); s[is.na(s)] <- 0
  day <- g$days; N <- sum(s); m <- sum(s*day)/N; v <- sum(s*(day - m)^2)/(N - 1)
  f <- s[s > 0]/N; up <- cumsum(s); rate <- 100*up/g$N/day; top <- which.max(rate)
  half <- function(y) { j <- which(up >= y)[1]; i <- j - 1  # straight from the look before
    u <- if (i > 0) up[[i]] else 0; d <- if (i > 0) day[[i]] else 0
    d + (y - u)/(up[[j]] - u)*(day[[j]] - d) }
  c(first = min(day[s > 0]), last = max(day[s > 0]), mean = m, variance = v, cv = 100*sqrt(v)/m,
    velocity = 100/m, speed = sum(s/day), bits = -sum(f*log2(f)),
    synchrony = sum(s*(s - 1))/(N*(N - 1)), t50_coolbear = half((N + 1)/2), t50_farooq = half(N/2),
    peak = rate[[top]], value = rate[[top]]*100*N/g$N/max(day), timson = sum(100*up/g$N)) }))
masses <- run("npmle", 2, function(t) lapply(t, function(g) {
  s <- survfit(Surv(ifelse(g$l == 0, NA, g$l), ifelse(is.finite(g$r), g$r, NA),
                    type = "interval2") ~ 1, weights = g$n)
  list(time = s$time, mass = -diff(c(1, s$surv))) }))

nll <- function(th, l, r, n) {
  p <- plogis(th[1]); s <- exp(th[3])
  Fl <- ifelse(l > 0, plogis((log(pmax(l, 1e-300)) - th[2])/s), 0)
  Fr <- plogis((log(r) - th[2])/s)
  q <- ifelse(is.finite(r), p*(Fr - Fl), 1 - p*Fl)
  -sum(n*log(pmax(q, 1e-300))) }
fit <- function(l, r, n, X, N) {
  k <- is.finite(r)
  start <- c(qlogis((X + 0.5)/(N + 1)), log(weighted.mean(r[k] - 0.5, n[k])), log(0.2))
  o <- optim(start, nll, l = l, r = r, n = n, method = "BFGS", hessian = TRUE,
             control = list(maxit = 200, reltol = 1e-10))
  se <- tryCatch(suppressWarnings(sqrt(diag(solve(o$hessian)))), error = function(e) rep(NA, 3))
  list(th = o$par, se = se, ll = -o$value) }
fits <- run("fit", 2, function(t) lapply(t, function(g) fit(g$l, g$r, g$n, g$X, g$N)))

wilson <- function(x, n, z = qnorm(.975)) { p <- x/n
  c(p + z^2/(2*n) - z*sqrt(p*(1 - p)/n + z^2/(4*n^2)),
    p + z^2/(2*n) + z*sqrt(p*(1 - p)/n + z^2/(4*n^2)))/(1 + z^2/n) }
newcombe <- function(X, N) { p <- X/N; w1 <- wilson(X[2], N[2]); w2 <- wilson(X[1], N[1])
  p[2] - p[1] + c(-sqrt((p[2] - w1[1])^2 + (w2[2] - p[1])^2),
                  sqrt((w1[2] - p[2])^2 + (p[1] - w2[1])^2)) }
differences <- run("newcombe", 1, function(t)
  newcombe(c(t$dry$X, t$soaked$X), c(t$dry$N, t$soaked$N)))
ps <- run("fisher", 1, function(t) fisher.test(matrix(c(
  t$soaked$X, t$soaked$N - t$soaked$X, t$dry$X, t$dry$N - t$dry$X), 2))$p.value)

for (i in names(trials)) {
  say <- function(g, name, x) cat(sprintf("value\t%s\t%s\t%s\t%.12g\n", i, g, name, x), file = out,
                                  sep = "")
  for (g in names(trials[[i]])) {
    say(g, c("wilson_lower", "wilson_upper", "exact_lower", "exact_upper"), intervals[[i]][[g]])
    say(g, names(indices[[i]][[g]]), indices[[i]][[g]])
    m <- masses[[i]][[g]]; k <- m$mass > 1e-9
    say(g, paste0("mass@", m$time[k]), m$mass[k])
    f <- fits[[i]][[g]]
    say(g, c("loglik", "logit", "log_median", "log_spread"), c(f$ll, f$th))
    say(g, c("se_logit", "se_log_median", "se_log_spread"), f$se) }
  say("both", c("newcombe_lower", "newcombe_upper"), differences[[i]])
  say("both", "fisher", ps[[i]]) }

# Simulated trials, as peers_simulation.cpp draws them.
simulate <- function(n) {
  rho <- .03; shape <- 6; z <- qnorm(.975); rejected <- covered <- newcombe_covered <- 0
  for (i in seq_len(n)) {
    days <- setdiff(1:16, sample(15, 2)); N <- X <- truth <- numeric(2)
    for (g in 1:2) {
      p <- plogis(qlogis(.75) + (g - 1)*.4); median <- 6*exp(-(g - 1)*.15); k <- (1 - rho)/rho
      F <- plogis(shape*(log(days) - log(median)))
      seeds <- sample(10:100, 4, TRUE); pt <- rbeta(4, p*k, (1 - p)*k)
      new <- rowSums(sapply(1:4, function(j)
        rmultinom(1, seeds[j], c(pt[j]*diff(c(0, F)), 1 - pt[j]*F[14]))))
      N[g] <- sum(seeds); X[g] <- N[g] - new[15]; truth[g] <- p*F[14]
      l <- c(0, days); r <- c(days, Inf); u <- new > 0
      f <- fit(l[u], r[u], new[u], X[g], N[g])
      covered <- covered + isTRUE(abs(f$th[2] - log(median)) < z*f$se[2]) }
    rejected <- rejected + (fisher.test(matrix(c(X[1], N[1] - X[1], X[2], N[2] - X[2]), 2))$p.value < .05)
    d <- newcombe(X, N)
    newcombe_covered <- newcombe_covered + (d[1] <= diff(truth) && diff(truth) <= d[2]) }
  c(rejected/n, covered/(2*n), newcombe_covered/n) }
set.seed(1); n <- as.integer(args[3])
invisible(simulate(5))
t0 <- cpu(); shares <- simulate(n); tell("simulation", (cpu() - t0)/n)
cat(sprintf("value\tsimulation\tboth\t%s\t%.12g\n", c("rejected", "covered", "newcombe_covered"),
            shares), file = out, sep = "")
close(out)
