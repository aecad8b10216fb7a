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

count-as-total = Todos
count-as-motile = Móviles
count-as-motile-normal = Móviles y normales

## What waits
bench-empty = Nada espera. Lo que se extraiga aparece aquí, para medirlo y hacer dosis.
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
measure-take-counted = Contado, de { $n } células
measure-take-by-eye = Juzgado a ojo
measure-typed-why = Escríbalo y diga después cómo se supo.
measure-chamber = Contado en cámara
measure-count = Espermatozoides contados
measure-squares = Cuadros contados
unit-parts = partes

## A semen batch and its use
batch-missing = Este lote de semen no está en este teléfono.
batch-left = { $n ->
    [one] Queda { $n } dosis
   *[other] Quedan { $n } dosis
}
batch-not-all = Este aparato no conoce todos sus usos: pueden quedar menos. Un aparato de la nave o de la oficina sí.
batch-made = { $n } hechas de { $ml } mL, { $technique }.
batch-of = Verracos: { $boars }
batch-use = Usar ahora
batch-used = Usado en
batch-take-back = Anular este lote
batch-take-back-sure = Toque otra vez: el lote dejará de contar
batch-stays = Ya se usó una dosis, así que el lote se queda. Lo que esté mal se corrige en el registro.
batch-was-taken-back = Anulado
batch-was-taken-back-why = Este lote de semen no cuenta. No use dosis con su etiqueta.
batch-withdrawal = Antibiótico en el diluyente, o nadie lo dijo: un periodo de supresión puede impedir el sacrificio de la cerda cubierta. Siga la etiqueta, al veterinario y las normas locales.
serve-which = ¿Qué cerda?
serve-left = Quedan { $n } de { $code }
serve-doses = Dosis
serve-sow = Cerda { $number }
serve-new-sow = Cerda nueva { $number }
serve-gave = { $number }: { $n ->
    [one] { $n } dosis
   *[other] { $n } dosis
}, quedan { $left }
serve-again = { $n ->
    [one] ¿Otra dosis para { $number }?
   *[other] ¿{ $n } dosis más para { $number }?
}
serve-too-many = Solo quedan { $n } de este lote. Tome menos u otro lote.
serve-over = Caducado desde { $when }: no use estas dosis. Tome otro lote.
serve-done = Listo

## Doses
doses-technique = Técnica
doses-sows = Cerdas inmóviles
need-title = ¿Cuántas cerdas en celo?
need-why = De las cerdas a las dosis: qué necesitan, qué espera, a quién se puede extraer.
need-gives = { $number }: { $n } dosis
need-kept = Hechas y en plazo: { $n } dosis. Esperan en la mesa:
need-unmeasured = { $number }: aún sin medir
need-collect = Hoy se puede extraer a
doses-plain = Sin microscopio
plain-undiluted = Sin diluir, hasta 100 mL
plain-extended = 20 mL completados
doses-save = Hacer este lote
doses-evaluate = Medir
doses-uncounted = No contado: nadie sabe cuántos espermatozoides hay en estas dosis.
doses-none = Sin dosis
doses-thin = Demasiado claro para el volumen habitual: dosis mayores sin diluyente, o mézclelo con otro.
doses-pool = Demasiado claro incluso para dosis grandes. Mézclelo con otro eyaculado.
doses-too-few = No alcanza para una dosis. Mézclelo o tome un objetivo menor.
doses-fill = { $ml } mL cada una, { $extender } mL de diluyente.
doses-pour = Caliente { $extender } mL de diluyente a no más de { $apart } °C del semen, semen crudo a { $semen } °C. Vierta el diluyente despacio sobre el semen, antes de 15 min.
doses-store = Después 1 a 2 h a temperatura ambiente y a oscuras, luego { $store } °C, separadas. Gírelas { $turns } veces al día.
doses-left = Sobran { $ml } mL de semen.
doses-final = { $m } M/mL en la dosis.
doses-use-by = Usar antes de { $when }.
doses-enough = Las cerdas toman { $n } dosis; sobran { $spare }.
doses-short = Las cerdas toman { $n } dosis; faltan { $short }. Cubiertas del todo: { $sows }.
doses-lacks = Falta: { $what }. Sin ello nadie puede contar dosis.
doses-needed = Las cerdas toman { $n } dosis.
doses-next = La siguiente cerda recibe solo { $n }.
doses-without = Sin ninguna: { $n }.
doses-not-reckoned = Aún no se puede calcular
doses-fill-pure = { $ml } mL cada una, sin diluyente.
doses-warm = Sin diluir: manténgalo a { $semen } °C y úselo antes de 2 h.
doses-not-measured = No medido: { $what }.
doses-not-looked = No se buscó: { $what }.
doses-shares = Parte de cada verraco en los espermatozoides: { $list }.
doses-apart = Semen y diluyente difieren { $apart } °C; lo correcto es { $most } °C como máximo. Caliente o enfríe el diluyente, mida otra vez y después vierta.
doses-overdue = Extraído hace { $span }: el semen crudo se diluye en unos { $most } min.
doses-odd-age = Extraído hace más de { $hours } h. El semen sin diluir se usa antes de { $most } h. ¿Hacer dosis de todos modos?
doses-odd-apart = ¿Siguen difiriendo { $apart } °C?
doses-odd = { $what }: { $read } { $unit }. Lo habitual es { $low } a { $high }. ¿Es correcto?
doses-odd-one = { $what }: { $read } { $unit }. Lo habitual es { $low }. ¿Es correcto?
doses-one-at-a-time = Sin microscopio, llene de un eyaculado cada vez.
doses-pool-many = Se mezclan como máximo { $n } eyaculados. Saque alguno de la mezcla.
doses-refused = Estos datos no se pueden calcular juntos. Devuelva a su valor por defecto lo que eligió.
doses-target = Espermatozoides por dosis
doses-count-as = Cuáles cuentan
doses-volume = Volumen de la dosis
doses-class = El diluyente conserva
doses-semen-c = Semen a
doses-extender-c = Diluyente a
doses-services = Cubriciones por cerda
doses-by-default = por defecto
doses-take-default = Volver al valor por defecto
doses-leave-open = Dejar sin decir
doses-deep = Otra técnica
doses-pool-with = Mezclar con
doses-pool-add = añadir
doses-pooled = en la mezcla
extender-short = Corto, hasta 3 días
extender-medium = Medio, hasta 5 días
extender-long = Largo, hasta 10 días
unit-sows = cerdas
finding-volume = volumen
finding-concentration = concentración
finding-motility = motilidad
finding-abnormal = anormales
finding-droplets = gotas
doses-apart-anyway = Verter así
doses-over = Caducado desde { $when }: así ya no se puede conservar.
doses-made-before = De este eyaculado ya se hizo el lote { $code }.
how-same = Calculado de nuevo: igual que al hacer el lote.
how-differs = Calculado de nuevo, no es lo que se mostró al hacer el lote. El lote guarda aquello con lo que se trabajó.
how-doses = Cómo se calcularon las dosis
source-definition = Se sigue de las palabras.
source-who = Manual de laboratorio de la OMS, 5.ª ed. 2010.
source-wilson = Wilson, 1927.
source-clopper = Clopper y Pearson, 1934.
source-brown = Brown, Cai y DasGupta, 2001.
source-przyborowski = Przyborowski y Wilenski, 1940.
source-berkson = Berkson, Magath y Hurn, 1940.
source-zou = Zou y Donner, 2008.
source-queensland = Gobierno de Queensland.
source-common-practice = Práctica común, sin fuente.
source-farm = Norma de la granja.
