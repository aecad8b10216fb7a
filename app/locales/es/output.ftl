# Lo que da un verraco. Pantallas del establo.

gives-volume = Volumen
gives-total = Espermatozoides totales
gives-motile = Motilidad
gives-abnormal = Anormales
output-less = { $n } % menos de lo esperado
output-more = { $n } % más de lo esperado
output-lower = más baja de lo esperado
output-higher = más de lo esperado
output-of-expected = { $seen }, esperado { $range }
output-signal = { $measure }: { $change } desde el { $day }
output-signal-herds = En esos días bajaron todos: mire eso primero.
output-signal-look = Mire lo que da y responda.
output-page = Lo que da
more-watch = Quién da menos

## Calor
more-extender = Diluyente
more-climate = Qué calor hace
more-instruments = Instrumentos
heat-lower = Se espera peor calidad del { $from } al { $to }.
heat-cool = Refresque { $room } ya: { $air } °C.
more-compare = Comparar verracos
