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
more-sending = Enviando …
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
invented = Granja inventada: aquí nada es real
more-leave-invented = Salir de la granja inventada
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
sows-filter = Buscar por número
standard-idle-why = Práctica común; sin fuente publicada.
