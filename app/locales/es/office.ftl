### La oficina. Las palabras llegan con sus pantallas.

## Fields of office forms
field-may-stay-empty = Puede quedar vacío.
field-not-a-day = No se leyó una fecha entera; escriba día, mes y año.
field-future = Se leyó { $read }; es después de hoy, { $today }.
field-from-to = De { $low } a { $high } { $unit }.
field-empty = No se leyó nada; escriba de { $low } a { $high } { $unit }.
field-no-figure = Se leyó «{ $read }»; escriba una cifra de { $low } a { $high } { $unit }.
field-outside = Se leyó { $read } { $unit }; se admite de { $low } a { $high } { $unit }.
field-not-whole = Se leyó { $read }; se admiten { $unit } enteros, de { $low } a { $high }.

## Boars
boars-number = Número
boars-name = Nombre
boars-born = Nacido
boars-born-why = Sin ella nadie puede decir si tiene edad suficiente.
boars-line = Raza o línea
boars-ear = Crotal o muesca
boars-ear-why = Por lo que se le conoce fuera de su corral.
boars-mind = A qué atender
boars-mind-why = Muerde, embiste, cojea: lo ve quien entra.
boars-worked = ¿Trabajó antes de hoy?
boars-worked-unknown = Nadie lo sabe
boars-worked-not-yet = Todavía no
boars-worked-on = Sí, un día
boars-last = Última extracción o monta
boars-apart = ¿Llegó hoy?
boars-apart-why = Entonces queda aislado hasta el { $day }: antes nadie lo adiestra ni lo extrae. Las normas locales y el veterinario van primero.
boars-pen = Corral
boars-old = Tendría { $n } años. Guarde otra vez si es correcto.
boars-twice = Otro verraco tiene este número. Guarde otra vez para dejar los dos.
boars-before-birth = Se leyó { $read }; es antes de su nacimiento.

## Pens and tags

## Sows

## Log
log-why = Lo que guarda este teléfono, lo más nuevo primero.
log-kind = Tipo
log-boar = Verraco
log-person = Persona
log-unsent = Solo lo que aún no está en la oficina
log-all = Todo
log-none = Nada coincide.
log-more = { $n } más
log-taken-back = retirado
log-take-back = Retirar
log-bring-back = Reponer
log-standard =
    descanso { $days ->
        [one] { $days } día
       *[other] { $days } días
    }, motilidad desde { $motility } %
log-batch = { $code }, { $n ->
    [one] { $n } dosis
   *[other] { $n } dosis
}
log-moved = { $boar } al corral { $pen }
log-gone = { $boar } salió de la granja
log-out = { $boar } fuera de los corrales
log-motile = móviles
log-abnormal = anormales
log-newer = Hecho por una versión más nueva: { $kind } { $version }
log-newer-ask = Buscar registros de una versión más nueva
log-newer-none = Ninguno entre los últimos mil de la oficina.
kind-farm = Ajustes de la granja
kind-person = Persona
kind-standard = Norma de la granja
kind-same-as = El mismo verraco
kind-boar = Verraco
kind-pen = Corral
kind-pen-tag = Etiqueta de corral
kind-move = Traslado
kind-off = Fuera de extracción
kind-on = De vuelta a la extracción
kind-sow = Cerda
kind-heat = Celo
kind-collection = Extracción
kind-evaluation = Valoración
kind-batch = Lote de semen
kind-service = Cubrición
kind-training = Adiestramiento
kind-note = Nota
kind-correction = Corrección
kind-void = Retirada

## Farm standard
standard-why = Estos umbrales deciden lo que aconsejan las pantallas. Las fuentes discrepan en casi todos; la granja elige. Las dosis ya hechas conservan la norma con que se hicieron.
standard-defaults = Nadie la fijó aún: estos son los valores de partida.
standard-set = Fijada: { $when }
standard-set-by = Fijada por { $name }, { $when }
standard-save = Guardar la norma
standard-saved = Guardada. Vale desde ahora.
standard-times = veces
standard-rest = Descanso entre extracciones
standard-rest-why = Lo publicado dice de 3 a 7; dos o menos, y más de siete, restan motilidad.
standard-in-seven = En siete días, sin motivo
standard-in-seven-why = Una o dos veces por semana es lo usual. Las montas naturales cuentan.
standard-idle = Parado: comprobar antes de usar, tras más de
standard-clean-out = Parado: el primero es de limpieza, tras más de
standard-clean-out-why = Práctica común; no menos que la línea anterior.
standard-idle-order = La limpieza no puede ir antes que la comprobación: dele los mismos días o más.
standard-young = Demasiado joven por debajo de
standard-young-why = Muchos empiezan a los 8 o 9 meses; lo que cuesta empezar antes se discute.
standard-repetition = Días de repetición tras el primer éxito
standard-repetition-why = Tres días seguidos es lo común; otra fuente le da una semana de descanso.
standard-session = Sesión de adiestramiento, como máximo
standard-session-why = Lo publicado dice de 15 a 20 al día. La página nunca lo dice mientras está montado.
standard-session-idle = Sesión de adiestramiento sin interés, como máximo
standard-session-idle-why = Práctica común; ninguna fuente publicada.
standard-isolation = Aislamiento tras la llegada
standard-isolation-why = Al menos 30. Las normas locales y el veterinario van primero.
standard-rhythm = Tras el primer éxito
standard-rhythm-why = Hay dos ritmos publicados. Los días de cualquiera no piden motivo en siete días.
rhythm-days-running = Días seguidos
rhythm-next-day-then-weekly = Al día siguiente, una semana de descanso, semanal ×4
standard-motility = Motilidad, como mínimo
standard-motility-why = Más de 60. Muchas granjas piden 70; por encima de 60 las fuentes discrepan.
standard-floor = Se leyó { $read } %. El semen con { $floor } % o menos no se usa, así que la norma queda por encima de { $floor } %.
standard-abnormal = Anormales, como máximo
standard-abnormal-why = 30 para empezar, con las gotas incluidas.
standard-droplets = Gotas, como máximo
standard-droplets-why = Un ensayo no vio pérdida con 15 o más, otro un corte en 11.
standard-gestation = Gestación
standard-gestation-why = 114, o 115 en algunos calendarios.
standard-keeps = El diluyente conserva
standard-keeps-why = Corto 3, medio hasta 5, largo de 7 a 10: decide su etiqueta.
standard-count-as = ¿Qué cuenta para una dosis?
standard-sperm-poor = ¿Entra aquí la fracción pobre en el vaso?
standard-antibiotic = ¿Lleva antibiótico el diluyente?
standard-antibiotic-why = Entonces un periodo de supresión puede impedir el sacrificio de la cerda cubierta. Deciden la etiqueta, el veterinario y las normas locales.
standard-farm = La granja
standard-farm-save = Guardar la granja
standard-zone = Zona horaria
standard-zone-why = Separa los días de la granja. Se tomó de la máquina en que empezó.
standard-origin = Dirección impresa en las etiquetas
standard-origin-why = Se elige una vez, como https://barn.example:8420: la dirección en que todo teléfono alcanza la oficina. Hasta entonces las etiquetas dicen PRUEBA.
standard-origin-chosen = Elegida. Las etiquetas de las puertas llevan ahí.
standard-origin-this = Usar la dirección de esta página
standard-origin-means = Las etiquetas ya impresas llevan a la dirección vieja. La cámara del teléfono no encontrará la granja con ellas; solo el lector de esta app. Imprima y cuelgue todas de nuevo.
standard-origin-sure = Imprimiré todas las etiquetas de nuevo
standard-origin-tick = Marque abajo que se imprimirán todas de nuevo, o deje la dirección como estaba.
standard-origin-form = Se leyó «{ $read }»; vale una dirección como https://barn.example:8420, sin ruta.
standard-origin-own = «{ $read }» es solo esta máquina; ningún teléfono la encuentra. Use la dirección de los teléfonos.

## People
people-picked = { $name } trabaja con este teléfono.
people-nobody-picked = Toque a quien trabaja con este teléfono.
people-nobody = Nadie
people-works-with-this = trabaja con este teléfono
people-change = Alguien se fue, o un nombre debe borrarse
people-leaves = Se fue
people-back = Ha vuelto
people-has-left = ya no trabaja aquí
people-erase = Borrar nombre
people-no-name = Sin nombre
people-name = Nombre de quien trabaja aquí
people-add = Añadir
people-twice = Ya hay alguien con el nombre { $name }. Toque otra vez para añadir a otra persona.
people-why = El nombre es para elegir, no una contraseña. Va aparte del registro y puede borrarse; los registros quedan.

## Bring in a list
import-why = Un archivo CSV con una línea de encabezados y una por verraco. Nada se escribe antes de que usted lo diga.
import-file = La lista
import-file-why = Cualquier separador, codificación y formato de fecha; hasta 20 MB.
import-busy = La oficina lee la lista …
import-look = Qué pasaría
import-count-rows = { $n ->
    [one] { $n } fila
   *[other] { $n } filas
}
import-count-new = { $n ->
    [one] { $n } nuevo
   *[other] { $n } nuevos
}
import-count-pens = { $n ->
    [one] { $n } corral nuevo
   *[other] { $n } corrales nuevos
}
import-count-same = { $n } ya aquí
import-count-differs = { $n ->
    [one] { $n } difiere
   *[other] { $n } difieren
}
import-count-twice = { $n } dos veces en la lista
import-count-refused = { $n } no se admiten
import-line = Línea
import-fate = Qué será de ella
import-more = { $n } filas más, sin mostrar.
import-columns = Qué contiene cada columna
import-not-read = No se lee
import-look-again = Mirar otra vez
import-rfid = Transpondedor
import-arrived = Llegada
import-no-number = Ninguna columna da el número del verraco. Diga abajo cuál lo da.
import-workbook = Es un libro de hoja de cálculo. Guarde allí la hoja como CSV y elija ese archivo.
import-empty = El archivo no tiene filas.
file-unread = El archivo no se lee: { $detail }
file-rows = El archivo tiene más de { $most } filas. Divídalo y traiga las partes una tras otra.
file-columns = La línea { $line } tiene { $n } columnas. Son demasiadas para una tabla de estas: mire el separador.
file-line-long = La línea { $line } es demasiado larga. ¿Va cada fila en su propia línea?
file-not-text = La línea { $line } tiene bytes que no son texto. Elija un archivo CSV, en UTF-8, UTF-16 o Windows-1252.
file-encoding = La línea { $line } no es { $encoding }. Guarde el archivo como UTF-8 y elíjalo después.
file-quote = Las comillas que se abren en la línea { $line } no se cierran. Ciérrelas o quítelas.
import-ask-order = Columna «{ $column }»: ¿qué día es { $read }?
import-ask-mixed = La columna «{ $column }» tiene { $one } y { $other }. ¿Qué va primero? Las filas que no cuadren quedan fuera.
import-ask-serials = Columna «{ $column }»: ¿es { $read } una cuenta de días de hoja de cálculo, { $day }?
import-day-first = Primero el día
import-month-first = Primero el mes
import-answer-first = Responda primero a la pregunta de arriba.
import-leave-out =
    Dejar fuera { $n ->
        [one] la fila que no se admite o está dos veces
       *[other] las { $n } filas que no se admiten o están dos veces
    }
import-overwrite =
    Cambiar lo que la granja dice de { $n ->
        [one] { $n } verraco
       *[other] { $n } verracos
    }
import-take =
    Traer { $n ->
        [one] { $n } verraco
       *[other] { $n } verracos
    }
import-take-changes = Traer los cambios
import-done =
    Entraron { $boars ->
        [one] { $boars } verraco
       *[other] { $boars } verracos
    } y { $pens ->
        [one] { $pens } corral
       *[other] { $pens } corrales
    }; { $changes } corregidos.
import-done-nothing = No cambió nada.
import-new = Nuevo.
import-same = Ya está aquí; no cambia nada.
import-differs = Ya está aquí, distinto: { $what }.
import-change = { $field }: { $old } aquí, { $new } en la lista
import-twice = Igual que la línea { $line }; queda fuera.
import-twice-differs = La línea { $line } tiene este número y dice otra cosa.
import-waits = Espera la respuesta sobre { $field }.
import-refused = { $field }: se leyó «{ $read }»; vale { $right }.
import-refused-empty = { $field }: no se leyó nada; vale { $right }.
import-right-given = algo en esta celda
import-right-at-most = { $n } caracteres como máximo
import-right-one-line = un texto en una línea
import-right-date = una fecha que exista, como 2025-03-24
import-right-not-after = ningún día después del { $day }
import-right-not-before = ningún día antes del { $day }
import-right-rfid = 15 cifras, como en el transpondedor
import-right-cells = { $n } celdas como máximo, tantas como encabezados
import-right-other = otra cosa, que pide una oficina más nueva
import-flag-formula = Una celda empieza como fórmula; se guardó como texto.
import-flag-damaged = Se perdieron letras antes de llegar el archivo.
import-flag-old = Tendría { $n } años.
import-flag-ear = El verraco { $number } tiene el mismo crotal.
import-flag-zeros = Solo difiere de { $number } en ceros a la izquierda.
import-flag-test = El transpondedor es de pruebas.
import-flag-gone = Salió de la granja.

## Backup and this phone
backup-why = La oficina guarda todo; cada teléfono guarda sus propios registros.
backup-last = Última copia automática: { $when }, verificada. Cada día se deja una en { $folder }, en la máquina de la oficina.
backup-none-yet = Todavía no hay copia. Cada día se deja una en { $folder }, en la máquina de la oficina.
backup-trouble = No se puede hacer una copia. Vea que su carpeta exista, que se pueda escribir en ella y que quede sitio en el disco. La máquina dice: { $why }
backup-office = Copia de la oficina
backup-office-why = Un archivo con todos los registros, leído de vuelta antes de darlo por bueno. Guárdelo en otro disco.
backup-office-take = Hacer una copia
backup-office-taken = La oficina hace el archivo. El navegador lo guarda con sus descargas: compruebe que está.
backup-phone = Este teléfono
backup-phone-why = Una granja de un solo teléfono y sin oficina guarda este archivo como copia.
backup-holds = Registros guardados
backup-unsent = Sin enviar
backup-oldest = Más antiguo sin enviar
backup-contact = Respondió la oficina
backup-keeps = El navegador los conserva
backup-persisted = sí, lo prometió
backup-not-persisted = sin promesa
backup-keep = Guardar los registros de este teléfono en un archivo
backup-never = nunca
backup-ago = hace { $span }
backup-devices = Todos los dispositivos
backup-devices-why = Según lo último que supo de ellos la oficina.
backup-devices-ask = Preguntar a la oficina
backup-device = Dispositivo
backup-last-seen = Visto
backup-records = Registros
backup-lost = Perdidos
backup-this-one = { $id }, este

missing-title = Lo que falta
missing-lost = { $n ->
    [one] { $n } anotación se perdió: ningún teléfono la conserva.
   *[other] { $n } anotaciones se perdieron: ningún teléfono las conserva.
}
missing-awaited = { $n ->
    [one] { $n } aparato envió anotaciones posteriores, pero no todas las anteriores. Abra allí la aplicación, cerca de la oficina.
   *[other] { $n } aparatos enviaron anotaciones posteriores, pero no todas las anteriores. Abra allí la aplicación, cerca de la oficina.
}
missing-boars = { $n ->
    [one] { $n } verraco tiene anotaciones, pero nunca llegó quién es. Anótelo de nuevo y diga en la página de abajo que ambos son el mismo.
   *[other] { $n } verracos tienen anotaciones, pero nunca llegó quiénes son. Anote cada uno de nuevo y diga en su página de abajo que ambos son el mismo.
}
missing-pens = { $n ->
    [one] { $n } corral tiene anotaciones, pero no nombre.
   *[other] { $n } corrales tienen anotaciones, pero no nombre.
}
missing-sows = { $n ->
    [one] { $n } cerda tiene anotaciones, pero no número.
   *[other] { $n } cerdas tienen anotaciones, pero no número.
}
missing-boar = Verraco desconocido { $n }

## Not accepted
aside-count = { $n ->
    [0] Nada de este teléfono.
    [one] { $n } registro de este teléfono.
   *[other] { $n } registros de este teléfono.
}
aside-why = La oficina guarda enteros esos registros, aparte del registro común. Nada se pierde; alguien debe mirar.
aside-newer = Escrito por una versión más nueva. Contará cuando el programa de la oficina sea igual de nuevo.
aside-malformed = No se lee como registro: { $detail }
aside-bounds = Dice algo que no puede ser: { $detail }. Anótelo otra vez como fue.
aside-body = Su contenido no se lee: { $detail }. Anótelo otra vez.
aside-other-farm = Es de otra granja.
aside-same-id = Otro registro lleva esta identidad. Se guardan los dos; compárelos.
aside-accept = Pasarlo al registro
aside-shut-out = El teléfono que lo trajo ya no tenía entrada.
aside-same-sequence = Este teléfono parece haber vuelto atrás: otro registro tiene su número. Se guardan los dos; compárelos.
aside-office = En la oficina, de todos los teléfonos
aside-office-why = Hace falta conexión.
aside-office-ask = Mostrar la lista de la oficina
aside-office-none = La oficina no apartó nada.
aside-arrived = Llegó: { $when }
aside-text = Tal como llegó
aside-stored = En el registro, pero raro: { $id }
aside-thread = No sigue al registro anterior de su teléfono: ese teléfono tiene dos historias.
aside-clock = Su reloj iba { $span } adelantado.

## Phones let in
phones-why = A cada teléfono se le da entrada una vez, y se le puede cerrar de nuevo.
phones-network-first = Los teléfonos aún no llegan a esta máquina. Ponga antes la granja en la red.
phones-role = ¿Qué puede hacer?
phones-role-may = { $role }. { $may }
phones-show = Mostrar un código
phones-scan = Léalo con la cámara del teléfono.
phones-type = O abra { $address } en el teléfono y escriba:
phones-left = Vale { $span } más, y para un teléfono.
phones-asks = { $name } pide entrada. ¿Es el teléfono que tiene delante?
phones-may = { $name } puede entrar.
phones-turned-away = { $name } se queda fuera.
phones-over = El código venció. Muestre uno nuevo.
phones-another = Otro código
phones-list = Con entrada
phones-none = Ningún teléfono todavía.
phones-heard = visto hace { $span }
phones-never-heard = aún no visto
phones-unsent = { $n } sin enviar
phones-shut-out = Cerrar la entrada
phones-shut-out-sure = ¿Cerrar la entrada a { $name }? Lo que aún envíe se aparta para que usted lo juzgue.
phones-keep = Que siga
phones-is-out = entrada cerrada hace { $span }

## The farm's network
network-why = Los teléfonos llegan a esta máquina por https, con un solo nombre, en la red de la granja. Nada sale de la granja y no se compra ningún certificado.
network-phone-steps-why = Abra una de estas en cada teléfono nuevo antes de nada. Contiene los pasos para fiarse de la autoridad de la granja.
network-name = Nombre en la red de la granja
network-name-why = Un nombre que termina en .local, o una dirección privada de esta máquina.
network-name-addresses = Si el rúter de la granja no encuentra nombres .local, tome una dirección de esta máquina: { $list }. Que el rúter la mantenga siempre igual.
network-name-missing = Escriba primero el nombre.
network-once = El nombre se imprime en cada etiqueta. Elíjalo una sola vez.
network-passphrase-new = Una frase de paso para el dueño
network-passphrase-why = { $low } caracteres o más. Apúntela y guárdela lejos de esta máquina. «pentally owner» en esta máquina pone otra.
network-passphrase-again = La misma otra vez
network-passphrase-differs = Las dos no son iguales. Escriba ambas de nuevo.
network-open = Abrir en la red de la granja
network-is-why = Aquí llegan los teléfonos a la granja.
network-steps = Pasos para los teléfonos
network-fingerprint = SHA-256 de la autoridad de la granja, para comparar a la vista con lo que muestra un teléfono: { $digits }
network-trouble = Los teléfonos no pueden entrar. Vea que ningún otro programa use el mismo puerto y, con certificados propios, que ambos archivos se puedan leer y vayan juntos. Se vuelve a intentar solo. La máquina dice: { $why }
network-another = Elegir otro nombre
network-another-why = Todas las etiquetas impresas llevan al nombre viejo, y cada teléfono debe emparejarse otra vez.
network-another-sure = Imprimiré de nuevo todas las etiquetas y emparejaré otra vez cada teléfono
network-another-tick = Marque arriba que se imprimirán de nuevo todas las etiquetas, o deje el nombre como está.
network-another-take = Tomar este nombre
calendar-title = Calendario de lo que viene
calendar-why = Extracciones que tocan en dos semanas, tiempos fuera, repeticiones y partos de cuatro meses. Se hace de nuevo cada vez que un calendario pregunta.
calendar-how = En este equipo, copie la dirección de este enlace y suscriba a ella su programa de calendario («desde internet», «desde una dirección»). En otro aparato un programa de calendario no entra; allí, abra el enlace en el navegador e importe el archivo.

## Los próximos días
week-why = A quién le toca, si cada uno trabaja el día que le toca.
week-nobody = A nadie le toca.
week-late =
    { $n ->
        [one] { $number } (un día de retraso)
       *[other] { $number } ({ $n } días de retraso)
    }
