## Cerdas
sows-count = { $n ->
    [one] { $n } cerda
   *[other] { $n } cerdas
}
sows-number = Número de una cerda nueva
sows-gilt = Es nulípara
sows-is-gilt = nulípara
sows-add = Añadir la cerda
sows-twice = Ya hay una cerda con este número. Toque otra vez para añadir otra.
sows-title = Cerda { $number }
sows-missing = No hay cerda en esta dirección. Quizá aún no llegó a este teléfono.
sows-not-here = Aquí no hay cerdas
sows-not-here-why = Este teléfono es del laboratorio. Las cerdas están en los teléfonos de la granja y en la oficina.
sows-stands-since = Inmóvil desde { $day }
sows-served-on = Cubierta { $day }
sows-since-when = ¿Desde cuándo está inmóvil?
sows-just-now = Justo ahora
sows-hours-ago = Hace { $n } h
sows-stands = Está inmóvil
sows-stands-not = No está inmóvil
sows-stood = inmóvil
sows-stood-not = no inmóvil
sows-onset = desde { $when }
sows-after = Después de la cubrición
sows-return = Vigilar la repetición: de { $from } a { $to }.
sows-check = Diagnóstico de gestación: desde { $check }, mejor { $better }.
sows-farrows = Pare hacia { $farrows }.
sows-heats = Celo
sows-services = Cubriciones
sows-by-boar = por el verraco { $boar }
sows-by-doses = { $n ->
    [one] { $n } dosis
   *[other] { $n } dosis
} del verraco { $boar }, { $how }
sows-natural = La cubrió un verraco
sows-by-which = ¿Qué verraco?
sows-natural-why = Una monta natural cuenta para su descanso.
sows-natural-when = ¿Cuándo?
sows-natural-save = La cubrió
sows-withdrawal = El diluyente llevaba antibiótico. Un periodo de supresión puede impedir su sacrificio: consulte la etiqueta y al veterinario.
sows-withdrawal-unknown = Nadie dijo si el diluyente llevaba antibiótico. Antes del sacrificio, consulte la etiqueta y al veterinario.
