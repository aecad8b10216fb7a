# Lo que da un verraco frente a lo esperado, y los avisos. Pantallas de oficina.

kind-climate = Clima
kind-signal-answer = Respuesta a un aviso
log-climate =
    { $n ->
        [one] { $room }, { $day }: { $low } °C
       *[other] { $room }, { $day }: { $n } lecturas, de { $low } a { $high } °C
    }
log-signal-herd = Todos los verracos

## Avisos
answered-seen = Visto, se vigila
answered-cause-found = Se encontró la causa
answered-false = No pasa nada

cause-short-rest = Poco descanso
cause-long-idle = Una pausa larga
cause-heat = Días de calor semanas antes
cause-fever = Fiebre en las semanas anteriores
cause-ill = Enfermedad, lesión o tratamiento
cause-handler = Lo extrajo otra persona
cause-glove = Otro guante
cause-dirt = Suciedad en el vaso
cause-filter = Filtro roto o caído
cause-instrument = Contado de otra manera
cause-fractions = Otras fracciones en el vaso
cause-age = Su edad
cause-herd = El laboratorio o el calor: bajaron todos
cause-other = Otra cosa

next-short-rest = Dele una semana y compare.
next-long-idle = Deseche el primer eyaculado, extraiga otra vez y compare.
next-heat = Refresque la sala. Se espera que se recupere cinco o seis semanas después del calor.
next-fever = Tómele la temperatura. Mida la motilidad antes de cada uso hasta que termine la vigilancia.
next-ill = Véalo con el veterinario.
next-handler = Miren juntos una extracción: agarre, soltar, paciencia.
next-glove = Pruebe este lote de guantes con una gota de semen bueno.
next-dirt = Mire el filtro, los guantes y el pelo del prepucio.
next-filter = Tense el filtro sobre el vaso antes de que monte; pruebe otro tipo y filtre de nuevo lo que pasó.
next-instrument = Cuente una muestra de las dos maneras.
next-fractions = Anote en cada extracción qué fracciones fueron al vaso.
next-age = Compare con otros de su edad.
next-herd = Cuente una muestra dos veces, caliente la platina, pruebe diluyente y termómetro antes de culpar a un verraco.
next-other = Anote lo que se encontró.

## Lo que da
output-fell = Bajó
output-fine = Como se esperaba
output-fine-why = Sus últimos { $n } eyaculados contados están donde se esperaban.
output-answered = Bajó, respondido
output-no-fall = Ninguna bajada
output-no-fall-why =
    { $out ->
        [one] De { $n } cifras de sus últimos eyaculados, una queda fuera de donde se esperaban nueve de cada diez. Más o menos una de cada diez queda fuera por azar.
       *[other] De { $n } cifras de sus últimos eyaculados, { $out } quedan fuera de donde se esperaban nueve de cada diez. Más o menos una de cada diez queda fuera por azar.
    }
output-failed = No se puede calcular
output-failed-why = Lo que calculó la oficina no corresponde al programa de este teléfono. Sus registros están a salvo. Ponga teléfono y oficina en la misma versión y mire otra vez.
output-few = Muy pocos
output-few-why =
    { $n ->
        [0] Aún no se contó ninguno de sus eyaculados. Se muestra lo habitual.
        [one] Se contó un eyaculado. Se muestra sobre todo lo habitual.
       *[other] Se contaron { $n } eyaculados. Se muestra sobre todo lo habitual.
    }
output-ahead = ¿Qué daría?
output-ahead-why = Nueve de cada diez quedan entre estos límites, si nada más cambia.
output-rest = Descanso, días
output-rested =
    { $n ->
        [one] un día de descanso
       *[other] { $n } días de descanso
    }
output-volume = Volumen mL
output-abnormal = Anorm. %
output-sperm = Esperm. ×10⁹
output-motile = Móviles %
output-recovery = Según sus propias { $n } extracciones se recupera tras { $days } días. Tómelo como una pista.
output-seen = Dado y esperado
output-which = ¿Qué medida?
output-chart = { $measure }, lo dado frente a lo esperado
output-legend = Banda: donde se esperaban nueve de cada diez. Puntos: lo que dio; los huecos quedan fuera. Barras: días de calor y días fuera de extracción. Flechas: cuándo se avisó.
output-table = Las cifras
output-was = Dado
output-expected = Esperado
output-how = Ajustado con { $n } eyaculados contados de { $boars } verracos, { $when }. Cuenta la edad, la línea, el descanso, la estación, el calor y las fracciones; aquí se suman sus eyaculados posteriores.
output-how-none = Aún no llegó ningún ajuste de la oficina: se muestra lo habitual en lo publicado, acercado a sus propios eyaculados.
output-how-alone = En esta granja, esta medida aún no se ajusta a ningún modelo: nadie la midió o sus cifras no convergen. Se muestra lo habitual en lo publicado, acercado a sus propios eyaculados.

## Avisos en palabras
signal-counted =
    { $n ->
        [one] Avisado tras un eyaculado.
       *[other] Avisado tras { $n } eyaculados.
    }
signal-speaks = Lo que es distinto desde entonces:
signal-herds = En esos días bajaron todos: no es solo cosa suya.
signal-no-reason = Nada en el registro es distinto desde entonces. Mire al verraco, sus patas y su comida.
signal-no-proof = Es una pista de dónde mirar primero, no una prueba. El veterinario decide sobre enfermedades.
signal-shares = { $during } de { $fallen } desde entonces, { $before } de { $earlier } antes.
signal-entries = Entradas: { $days }
signal-which-cause = ¿Cuál fue la causa?
signal-words = Con sus palabras
signal-words-why = Solo si hay más que decir.

## Vigilancia
watch-none = Nadie bajó
watch-none-why = Ningún verraco dio menos de lo esperado más allá de lo que trae el azar.
watch-answered-all = Todo respondido
watch-answered-all-why = Lo que bajó tiene respuesta y queda abajo hasta que se recupere. Vigílelo.
watch-failed =
    { $n ->
        [one] No se puede calcular lo que da un verraco: lo que calculó la oficina no corresponde al programa de este teléfono.
       *[other] No se puede calcular lo que dan { $n } verracos: lo que calculó la oficina no corresponde al programa de este teléfono.
    }
watch-nothing = Nada que comparar
watch-nothing-why = Aún no se ha extraído nada. Una bajada se ve cuando haya eyaculados medidos.
watch-some =
    { $n ->
        [one] Un aviso
       *[other] { $n } avisos
    }
watch-some-why = Mire cada uno y responda. La bajada más antigua cuesta más.
watch-herd-head = Todos los verracos
watch-herd =
    { $boars ->
        [one] { $measure }: { $worse } de un verraco dio peor de lo esperado en { $days } días.
       *[other] { $measure }: { $worse } de { $boars } verracos dieron peor de lo esperado en { $days } días.
    }
watch-herd-heat = Hubo días de calor hace tres a seis semanas: se espera que pase; refresque las salas.
watch-herd-bench = Eso apunta al laboratorio, no a cada verraco. Cuente una muestra dos veces, caliente la platina, pruebe diluyente y termómetro.
watch-with-herd = Bajaron con todos
watch-open = Sin responder
watch-answered = Respondidos
watch-how = Un aviso compara cada eyaculado con lo que habría dado un verraco descansado y sin calor, y suma lo que falta. Un verraco sano recibe un aviso más o menos cada cien extracciones, por una u otra de las cuatro medidas: donde casi todos están sanos, muchos avisos son falsos. Mire antes de actuar.

## Vida
life = Su vida
life-until = hasta el { $day }

## Verracos uno al lado de otro
compare-why = Lo propio de cada verraco, aparte de edad, descanso, estación y calor.
compare-none = Aún no hay verracos.
compare-sort = ¿Qué primero?
compare-boar = Verraco
compare-sperm = Esperm.
compare-motile = Motil.
compare-danger = Peligro
compare-lame = Cojo
compare-sows = Repiten
compare-age = Meses
compare-collections = Extracciones
compare-few = pocos
compare-alike = igual
compare-points = { $n } pt
compare-of = { $n } de { $all }
compare-at-least = { $n } o más
compare-legend = Espermatozoides y motilidad: hay cifra donde nueve de cada diez límites quedan de ese lado de los demás, con cinco eyaculados contados o más. «igual»: no se puede decir que haya diferencia. «pocos»: muy pocos para decirlo. Peligro: mordiscos, embestidas, personas heridas. Repiten: otra vez en celo, de las que solo él cubrió; «no se sabe» si el registro no tiene ninguna.
compare-look = Para pensar en reemplazar
compare-look-none = Nada en el registro habla por reemplazar a un verraco.
compare-look-why = Un toque lleva a ponerlo fuera, con el motivo. Es una pista: deciden las personas y, en enfermedades, el veterinario. La edad sola no es motivo aquí.
compare-leaves = Ya para eliminar
speaks-output = { $n } % menos espermatozoides que los demás
speaks-quality = { $n } puntos menos de motilidad que los demás
speaks-temper =
    { $n ->
        [one] una vez un peligro para las personas
       *[other] { $n } veces un peligro para las personas
    }
speaks-legs = cojo { $n } veces
speaks-fertility = { $n } de { $all } cerdas volvieron a celo
