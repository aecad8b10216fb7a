## El veredicto sobre un eyaculado
technique-intracervical = Cervical
technique-post-cervical = Poscervical
technique-deep-uterine = Intrauterina profunda
verdict-fit = Apto
verdict-not-measured = No medido
verdict-unfit = No apto
verdict-waits = aún sin evaluar
rule-motile-missing = Motilidad no medida.
rule-abnormal-missing = Anormales no medidos.
rule-droplets-missing = Gotas no medidas.
forbids-latex = Guante de látex.
forbids-blood = Sangre.
forbids-pus = Hay pus.
forbids-urine = Orina.
forbids-foul = Olor fétido.
forbids-veterinarian = Primero el veterinario; el verraco queda fuera de extracción.
rule-motile-kept = La motilidad cumple el { $bound } % por { $margin ->
    [1] 1 punto
   *[other] { $margin } puntos
}.
rule-motile-missed = La motilidad queda por debajo del { $bound } % por { $margin ->
    [1] 1 punto
   *[other] { $margin } puntos
}.
rule-abnormal-kept = Los anormales cumplen el { $bound } % por { $margin ->
    [1] 1 punto
   *[other] { $margin } puntos
}.
rule-abnormal-missed = Los anormales pasan del { $bound } % por { $margin ->
    [1] 1 punto
   *[other] { $margin } puntos
}.
rule-droplets-kept = Las gotas cumplen el { $bound } % por { $margin ->
    [1] 1 punto
   *[other] { $margin } puntos
}.
rule-droplets-missed = Las gotas pasan del { $bound } % por { $margin ->
    [1] 1 punto
   *[other] { $margin } puntos
}.
rule-close = Demasiado cerca para estar seguro: cuente más.
verdict-not-looked = Nadie lo dijo: { $what }.
finding-glove = guante
finding-blood = sangre
finding-pus = pus
finding-urine = orina
finding-smell = olor
