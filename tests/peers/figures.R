# The peers' figures in R: what,figure,seconds,peer. The tables are written by the bench beforehand.
folder <- commandArgs(trailingOnly = TRUE)[1]
read <- function(name) as.matrix(read.csv(file.path(folder, name), header = FALSE))
# The median of five runs, as on the other side.
timed <- function(what, peer, runs, work) {
  seconds <- numeric(runs)
  for (run in seq_len(runs)) {
    begun <- proc.time()[["elapsed"]]
    figure <- work()
    seconds[run] <- proc.time()[["elapsed"]] - begun
  }
  cat(sprintf("%s,%.12g,%.6f,%s\n", what, figure, median(seconds), peer))
}
has <- function(package) suppressWarnings(suppressMessages(require(package, character.only = TRUE, quietly = TRUE)))
ratings <- read("ratings.csv")
if (has("psych")) {
  timed("alpha 2500 x 4", "psych", 5, function()
    suppressWarnings(psych::alpha(as.data.frame(ratings), check.keys = FALSE)$total$raw_alpha))
  timed("ICC(2 1) 2500 x 4", "psych", 3, function()
    psych::ICC(ratings, lmer = FALSE)$results$ICC[2])
}
rasch <- read("rasch.csv")
if (has("psychotools")) {
  timed("Rasch CML 10000 x 60 last difficulty", "psychotools", 3, function() {
    d <- psychotools::itempar(psychotools::raschmodel(rasch))
    as.numeric(d[60])
  })
}
small <- read("small.csv")
if (has("eRm")) {
  timed("Rasch CML 500 x 20 last difficulty", "eRm", 3, function()
    -as.numeric(eRm::RM(small)$betapar[20]))
}
