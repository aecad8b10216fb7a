# The lists a phone carries too, and the first start.

more-boars = Verracos
more-pens = Corrales y etiquetas
more-sows = Cerdas
more-log = Registro
more-standard = Norma de la granja
more-checks = Revisiones
more-learn = Aprender el trabajo
more-evidence = ¿Sirve adiestrar?
more-people = Personas
more-import = Traer una lista de verracos
more-backup = Copia y este teléfono
more-phones = Teléfonos con entrada
more-network = La red de la granja
more-aside = No aceptado
more-send = Enviar ahora
more-keep = Conservar en este teléfono
more-kept = El navegador conserva los registros de este teléfono.
more-not-kept = El navegador no promete nada. Ponga la app en la pantalla de inicio y envíe a menudo.
more-update = Tomar la versión nueva
more-caution = Los verracos hieren y matan. Las normas locales, el veterinario y la práctica autorizada van antes que cualquier cosa de esta pantalla.
first-title = Su granja
first-why = Tres maneras de empezar.
first-name = Nombre de la granja
first-name-missing = Escriba primero el nombre de la granja.
first-empty = Empezar vacía
first-list = Traer una lista de verracos
first-look = Mirar una granja inventada
first-look-why = La granja inventada tiene verracos, corrales y años de trabajo que nunca ocurrieron. Va aparte: nada de ella se mezcla con la suya.
boars-new = Verraco nuevo
field-label = De 1 a 40 caracteres.
boars-count = { $n ->
    [one] { $n } verraco aquí
   *[other] { $n } verracos aquí
}
boars-filter = Buscar por número, nombre o corral
boars-more = { $n } más; escriba para encontrarlos.
boars-gone = Salieron de la granja
pens-count = { $n ->
    [one] { $n } corral
   *[other] { $n } corrales
}
pens-new = Corral nuevo: lo pintado en la puerta
pens-add = Añadir el corral
pens-twice = Ya hay un corral { $pen }. Toque otra vez para añadir otro.
pens-print = Imprimir etiquetas
pens-print-why = Cada corral nuevo recibe un código para su etiqueta. La oficina imprime las etiquetas; hace falta conexión.
pens-empty = vacío
pens-holds = { $boars } dentro
pens-who = ¿Quién entra?
pens-codes = Códigos de sus etiquetas
pens-new-tag = Código nuevo
pens-missing = No hay corral en esta dirección. Quizá aún no llegó a este teléfono.
sows-count = { $n ->
    [one] { $n } cerda
   *[other] { $n } cerdas
}
sows-filter = Buscar por número
sows-number = Número de una cerda nueva
sows-gilt = Es nulípara
sows-is-gilt = nulípara
sows-add = Añadir la cerda
sows-twice = Ya hay una cerda con este número. Toque otra vez para añadir otra.
sows-title = Cerda { $number }
sows-missing = No hay cerda en esta dirección. Quizá aún no llegó a este teléfono.
sows-not-here = Aquí no hay cerdas
sows-not-here-why = Este teléfono es del laboratorio. Las cerdas están en los teléfonos de la granja y en la oficina.
sows-stands-since = Inmóvil desde: { $day }
sows-served-on = Cubierta: { $day }
sows-since-when = ¿Desde cuándo está inmóvil?
sows-just-now = Justo ahora
sows-hours-ago = Hace { $n } h
sows-stands = Está inmóvil
sows-stands-not = No está inmóvil
sows-stood = inmóvil
sows-stood-not = no inmóvil
sows-onset = desde { $when }
sows-after = Después de la cubrición
sows-return = Vigilar la repetición: { $from } a { $to }.
sows-check = Diagnóstico de gestación: desde { $check }, mejor { $better }.
sows-farrows = Pare hacia: { $farrows }.
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
standard-idle-why = Práctica común; sin fuente publicada.
