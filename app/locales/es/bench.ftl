### La mesa: evaluación, dosis, cerdas.

colour-milky = Lechoso
colour-cream = Crema
colour-watery = Aguado
colour-yellow = Amarillo
colour-pink = Rosado
colour-brown = Pardo
smell-normal = Normal
smell-urine = Orina
smell-foul = Mal olor

technique-intracervical = Cervical
technique-post-cervical = Poscervical
technique-deep-uterine = Intrauterina profunda
count-as-total = Todos
count-as-motile = Móviles
count-as-motile-normal = Móviles y normales

## What waits
bench-empty = Nada espera.
bench-batches = Lotes de semen
bench-missing = Esta extracción no está en este teléfono.
bench-of = Verraco { $number } · { $what }
bench-age = Extraído hace { $span }
batch-doses = { $n ->
    [one] { $n } dosis
   *[other] { $n } dosis
}
batch-use-by = usar antes de { $when }
batch-over = caducado desde { $when }

## Evaluating
measure-concentration = Concentración
measure-motile = Motilidad
measure-abnormal = Anormales
measure-droplets = Gotas citoplasmáticas
measure-colour = Color
measure-smell = Olor
measure-blood = ¿Sangre?
measure-pus = ¿Pus?
measure-urine = ¿Orina?
measure-counted = contado
measure-by-eye = a ojo
measure-take-counted = Anotar: contado, 200 células
measure-take-by-eye = Anotar: juzgado a ojo
measure-chamber = Contado en cámara
measure-count = Espermatozoides contados
measure-squares = Cuadros de 4 nl contados
measure-diluent = Partes de diluyente por 1 de semen
unit-parts = partes

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

## A semen batch and its use
batch-missing = Este lote de semen no está en este teléfono.
batch-left = { $n ->
    [one] Queda { $n } dosis
   *[other] Quedan { $n } dosis
}
batch-made = { $n } hechas de { $ml } ml, { $technique }.
batch-of = Verracos: { $boars }
batch-use = Usar ahora
batch-used = Usado en
batch-withdrawal = Antibiótico en el diluyente, o nadie lo dijo: un periodo de supresión puede impedir el sacrificio de la cerda cubierta. Siga la etiqueta, al veterinario y las normas locales.
serve-which = ¿Qué cerda?
serve-left = Quedan { $n } de { $code }
serve-doses = Dosis
serve-sow = Cerda { $number }
serve-new-sow = Cerda nueva { $number }
serve-too-many = Solo quedan { $n } de este lote. Tome menos u otro lote.
serve-done = Listo
forbids-veterinarian = Primero el veterinario; el verraco queda fuera de extracción.
rule-motile-kept = La motilidad cumple el { $bound } % por { $margin }.
rule-motile-missed = A la motilidad le faltan { $margin } para el { $bound } %.
rule-abnormal-kept = Los anormales cumplen el { $bound } % por { $margin }.
rule-abnormal-missed = Los anormales pasan del { $bound } % por { $margin }.
rule-droplets-kept = Las gotas cumplen el { $bound } % por { $margin }.
rule-droplets-missed = Las gotas pasan del { $bound } % por { $margin }.
rule-close = Demasiado cerca para estar seguro: cuente más.

## Doses
doses-technique = ¿Dónde se deposita el semen?
doses-sows = Cerdas inmóviles
doses-plain = Sin microscopio
plain-undiluted = Sin diluir, hasta 100 ml
plain-extended = 20 ml completados
doses-save = Hacer este lote
doses-evaluate = Medir
doses-uncounted = No contado: nadie sabe cuántos espermatozoides hay en estas dosis.
doses-none = Sin dosis
doses-thin = Demasiado claro para el volumen habitual: dosis mayores sin diluyente, o mézclelo con otro.
doses-pool = Demasiado claro incluso para dosis grandes. Mézclelo con otro eyaculado.
doses-too-few = No alcanza para una dosis. Mézclelo o tome un objetivo menor.
doses-fill = { $ml } ml cada una, { $extender } ml de diluyente.
doses-pour = Caliente { $extender } ml de diluyente a no más de { $apart } °C del semen, semen crudo a { $semen } °C. Vierta el diluyente despacio sobre el semen, antes de 15 min.
doses-store = Después 1 a 2 h a temperatura ambiente y a oscuras, luego { $store } °C, separadas. Gírelas { $turns } veces al día.
doses-left = Sobran { $ml } ml de semen.
doses-final = { $m } M/ml en la dosis.
doses-use-by = Usar antes de { $when }.
doses-enough = Las cerdas toman { $n }; sobran { $spare }.
doses-short = Las cerdas toman { $n }; faltan { $short }. { $sows } cerdas quedan servidas del todo.
doses-lacks = Falta: { $what }. Lo que no se mide nunca es un número.
how-same = Calculado de nuevo: igual que al hacer el lote.
how-differs = Calculado de nuevo, no es lo que se mostró al hacer el lote. El lote guarda aquello con lo que se trabajó.
source-definition = Se sigue de las palabras.
source-who = Manual de laboratorio de la OMS, 5.ª ed. 2010.
source-wilson = Wilson, 1927.
source-queensland = Gobierno de Queensland.
source-common-practice = Práctica común, sin fuente.
source-farm = Norma de la granja.
verdict-not-looked = Nadie lo dijo: { $what }.
finding-glove = guante
finding-blood = sangre
finding-pus = si hay pus
finding-urine = orina
finding-smell = olor
