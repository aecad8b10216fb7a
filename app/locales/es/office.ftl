### La oficina. Las palabras llegan con sus pantallas.

more-boars = Verracos
more-pens = Corrales y etiquetas
more-sows = Cerdas
more-log = Registro
more-standard = Norma de la granja
more-people = Personas
more-import = Traer una lista de verracos
more-backup = Copia y este teléfono
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
