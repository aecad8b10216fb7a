## The verdict on an ejaculate
technique-intracervical = Intracervical
technique-post-cervical = Post-cervical
technique-deep-uterine = Deep uterine
verdict-fit = Fit
verdict-not-measured = Not measured
verdict-unfit = Not fit
verdict-waits = not evaluated yet
rule-motile-missing = Motility not measured.
rule-abnormal-missing = Abnormal not measured.
rule-droplets-missing = Droplets not measured.
forbids-latex = Latex glove.
forbids-blood = Blood.
forbids-pus = Pus.
forbids-urine = Urine.
forbids-foul = Foul smell.
forbids-veterinarian = Veterinarian first; the boar goes off collection.
rule-motile-kept = Motility keeps { $bound } % by { $margin ->
    [1] 1 point
   *[other] { $margin } points
}.
rule-motile-missed = Motility misses { $bound } % by { $margin ->
    [1] 1 point
   *[other] { $margin } points
}.
rule-abnormal-kept = Abnormal keeps { $bound } % by { $margin ->
    [1] 1 point
   *[other] { $margin } points
}.
rule-abnormal-missed = Abnormal exceeds { $bound } % by { $margin ->
    [1] 1 point
   *[other] { $margin } points
}.
rule-droplets-kept = Droplets keep { $bound } % by { $margin ->
    [1] 1 point
   *[other] { $margin } points
}.
rule-droplets-missed = Droplets exceed { $bound } % by { $margin ->
    [1] 1 point
   *[other] { $margin } points
}.
rule-close = Too close to be sure: count more.
verdict-not-looked = Nobody said: { $what }.
finding-glove = glove
finding-blood = blood
finding-pus = pus
finding-urine = urine
finding-smell = smell
