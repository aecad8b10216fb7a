### Recuento en la mesa: los caminos a una cifra, los toques, lo que resulta de un recuento.

counting-kept = Guardado en este teléfono, aún sin registrar.
counting-other-saved = Entretanto alguien registró otra evaluación de este eyaculado. Esta quedará después.
counting-drop = Desechar lo no registrado
counting-drop-sure = Toque otra vez: lo contado y anotado aquí se pierde para siempre
counting-now = Contar ahora
counting-go-on = Seguir contando: van { $n }
counting-read = Leer { $instrument }
counting-type = Teclear la cifra
counting-unknown-error = Tecleado: nadie sabe cuán seguro es
counting-cannot-be = Este recuento no puede ser: más espermatozoides de los que caben en los cuadros o de los que tiene el semen. Revise recuento, cuadros y dilución.
counting-impossible = No puede ser
counting-between = de { $low } a { $high }, con 95 %
counting-share-between = Del { $low } al { $high } % con 95 %, de { $n } células.
counting-by-eye-coarse = A ojo: son usuales 5 puntos de más o de menos.
counting-too-many = Tantos espermatozoides no caben en estos cuadros con esta dilución: como máximo { $most }. Revise recuento y cuadros.
counting-filling = Llenado { $n }
counting-not-open = No hay recuento abierto.

## Dilution
dilution-title = Dilución para contar
dilution-why = Partes de semen + partes de diluyente. Toque cada paso.
dilution-none = Ningún paso: sin diluir
dilution-other = Otra
dilution-go = Seguir con { $factor }
dilution-undiluted = Seguir sin diluir
dilution-less = Quitar el último paso
dilution-semen-parts = Partes de semen
dilution-diluent-parts = Partes de diluyente
dilution-too-much = Eso pasa de ×10.000 o de 4 pasos. Quite un paso.
dilution-taken-for = { $found } y no { $taken }
dilution-taken-for-why = { $steps }: la parte de semen también cuenta. ¿Se mezcló así o se completó hasta { $taken }?
dilution-change = Cambiar los pasos

## Tapping
tally-done = Listo
tally-sound-on = Sonido
tally-sound-off = Mudo
tally-of = { $n } de { $target }
tally-place = Llenado { $filling } · retícula { $grid }, cuadro { $square }
tally-replicate = Repetición { $n }
tally-sperm = Espermatozoide
tally-in-square = { $n } en este cuadro
tally-next-square = Otro cuadro
tally-filling-done = Llenado listo
tally-to-the-grids-end = Alcanzado. Cuente hasta el fin de la retícula.
tally-at-whole-grid = Alcanzado, con retícula entera. Pare aquí.
tally-cells-reached = Alcanzado. Toque Listo.
tally-motile = Móvil
tally-not-motile = Inmóvil
class-normal = Normales
class-head = Cabeza
class-proximal = Gota proximal
class-distal = Gota distal
class-tail = Cola
tally-square-full = Un cuadro no muestra más que esto. Diluya más y empiece de nuevo.
tally-enough = Ya bastan: no se toman más. Toque Listo.
tally-nothing-yet = Aquí aún no se contó nada.
tally-nothing-to-undo = No hay nada que deshacer.
tally-no-more = No se toman más repeticiones.

## What it comes to
sum-nothing = Nada contado aún
sum-count-on = Seguir contando
sum-take = Anotarlo
sum-again = Desechar y contar de nuevo
sum-bring-back = Recuperar lo desechado
sum-second-filling = Otro llenado
sum-second-replicate = Otra repetición
sum-diluted = Diluido { $dilution }.
sum-filling = Llenado { $filling }: { $n } espermatozoides en { $squares } cuadros.
sum-motile-of = Repetición { $replicate }: { $hits } móviles de { $n }.
sum-classes = Repetición { $replicate }: { $classes }.
sum-agree = Concuerdan: difieren en { $apart }; hasta { $allowed } es azar.
sum-disagree = No concuerdan: difieren en { $apart }; hasta { $allowed } es azar.
sum-agree-by-chance = Concuerdan: difieren en { $apart }, lo que el azar solo hace en { $chance } de 100.
sum-disagree-by-chance = No concuerdan: difieren en { $apart }, lo que el azar solo hace apenas en { $chance } de 100.
sum-fill-afresh = Mezcle la muestra, diluya de nuevo y cuente dos llenados frescos.
sum-count-afresh = Tome dos gotas frescas y cuente ambas de nuevo.
sum-smear-afresh = Cuente ambas de nuevo, con un frotis fresco.
sum-one-filling = Un solo llenado: nadie puede ver un desliz. Cuente otro.
sum-one-replicate = Una sola repetición: nadie puede ver un desliz. Cuente otra.
sum-crowded = Están tan juntos que unos tapan a otros. Diluya más.
sum-few = Menos de 200 en un llenado.
sum-part-grids = Un llenado no acaba en una retícula entera.
sum-errors = Errores: recuento { $counting } %, dilución { $dilution } %, cámara { $chamber } %.
sum-error-asked = Error de recuento pedido
sum-enough = Se contó bastante para { $asked } %.
sum-count-more =
    { $grids ->
        [one] Cuente { $n } más para { $asked } %: cerca de { $grids } retícula.
       *[other] Cuente { $n } más para { $asked } %: cerca de { $grids } retículas.
    }
sum-count-more-of-nothing = No se halló ninguno. Harían falta { $n } para { $asked } %. Diluya menos.
sum-others-exceed = Dilución y cámara dejan { $other } %: ayuda más diluir y llenar de nuevo que seguir contando.

## Doubt
doubt-headline = Dudoso
doubt-unfit-so-far = Por ahora no es apto.
doubt-more-of = { $what }: cuente { $n } más.
doubt-stays-of = { $what }: tan cerca del límite que contar no decide nada.
doubt-motile-below = Motilidad real bajo { $bound } %: { $chance }.
doubt-abnormal-above = Anormales reales sobre { $bound } %: { $chance }.
doubt-droplets-above = Gotas reales sobre { $bound } %: { $chance }.
doubt-count-more = Cuente { $n } más.
doubt-count-cells = Cuente { $n } células.
doubt-stays = Tan cerca del límite que seguir contando no decide nada.
odds-rare = menos de 1 de cada 1000
odds-one-in = 1 de cada { $n }
odds-in-ten = { $n } de cada 10
odds-likely = más de 19 de cada 20
odds-certain = casi seguro

## Another chamber
chamber-neubauer = Neubauer mejorada
chamber-of = Cuadros de { $nl } nl, { $squares } por retícula
chamber-side = Lado de un cuadro
chamber-depth = Profundidad de la cámara
chamber-grid-squares = Cuadros por retícula
chamber-grids = Retículas de la cámara
chamber-why = Está en los papeles de la cámara.
unit-mm = mm
unit-grids = retículas
