### Lo que se cuida y la enseñanza de personas.

## Lo que se cuida
thing-quiet = Tranquilidad
thing-dummy-clean = Potro limpio
thing-cup = Vaso y calentador
thing-stage = Temperatura de la platina
thing-thermometer = Termómetro
thing-scale = Báscula
thing-water = Agua del diluyente
look-footing = Seco, rugoso, nada con que tropezar.
look-dummy-stands = No se mueve, y su altura va bien a los verracos.
look-way-out = La tabla en su sitio. Huecos de 23 a 25 cm libres para salir.
look-quiet = Sin ruido, sin gente de paso.
look-dummy-clean = Lavado tras el último verraco, y seco.
look-cup = Vaso y bolsa limpios. El calentador mantiene 37 a 38 °C.
look-stage = Mantiene 37 °C según un termómetro propio.
look-thermometer = Coincide con otro, o marca 0 °C en hielo que se funde.
look-scale = Un peso conocido se lee bien.
look-water = Menos de 5 µS/cm, o lo que pida la etiqueta del diluyente.
found-fine = Bien
found-not-fine = Mal
checks-all = Todo lo que se cuida
checks-done = Nada pendiente
checks-done-why = Toque una de abajo para revisarla otra vez.
checks-later = Luego
checks-since = por revisar desde { $day }
checks-till = bien, otra vez { $day }
checks-never = nadie ha mirado todavía
checks-mend = Nadie entra antes de arreglarlo.
checks-why = La norma de la granja dice cada cuántos días toca. Las normas locales van primero.

## Enseñanza de personas
work-collection = Extracción
work-training = Adiestrar verracos

## Registro
kind-check = Revisión
kind-supervised = Con supervisión
kind-sign-off = Visto bueno
log-with = { $work }, con { $name }
log-signed-off = { $work }, visto bueno de { $name }

## Personas: supervisión y visto bueno
teach = Supervisión y visto bueno
teach-why = El visto bueno lo da quien supervisa, nunca la cuenta sola. La norma de la granja dice cuántas veces se piden; las normas locales y la práctica autorizada van primero.
teach-who = ¿Quién aprende?
teach-work = ¿Qué trabajo?
teach-by = ¿Quién está al lado y firma?
teach-sign = Dar el visto bueno
teach-count = Contar una con supervisión
teach-take-back = Retirar el visto bueno
teach-alone = Nadie se da el visto bueno a sí mismo: añada antes a otra persona.
teach-counted = { $n } de { $all } con supervisión
teach-signed-by = visto bueno de { $name }

## Farm standard
standard-check-area = Revisar el sitio otra vez tras
standard-check-dummy = Limpiar el potro otra vez tras
standard-check-cup = Revisar vaso y calentador otra vez tras
standard-check-stage = Leer la temperatura de la platina otra vez tras
standard-check-thermometer = Comparar el termómetro otra vez tras
standard-check-scale = Revisar la báscula otra vez tras
standard-check-water = Revisar el agua otra vez tras
standard-check-why = 0 si la granja no lo tiene. Práctica común; sin fuente impresa.
standard-supervised = Con supervisión antes del visto bueno
standard-supervised-why = Práctica común; sin fuente impresa. Decide quien supervisa.
