package shotmaker

// What a draw, a fade and the round shots of the issue say of a right-hander.
var (
	draw, fade        = Says{Curve: -1}, Says{Curve: 1}
	lowDraw, highFade = Says{Curve: -1, Height: -1}, Says{Curve: 1, Height: 1}
	lowFade, highDraw = Says{Curve: 1, Height: -1}, Says{Curve: -1, Height: 1}
	straight          = Says{Straight: true}
	low, high         = Says{Height: -1}, Says{Height: 1}
	short             = Says{Short: true}
	startLeft         = Says{Start: -1}
	startRight        = Says{Start: 1}
	round             = Says{Start: 1, StartBy: 3, Curve: -1, CurveBy: 8}
)

func (s Says) by(curve float64, unit string) Says {
	s.CurveBy, s.Unit = curve, unit
	return s
}

func (s Says) in(unit string) Says {
	s.Unit = unit
	return s
}

func apex(by float64, unit string) Says  { return Says{Apex: by, Unit: unit} }
func carry(by float64, unit string) Says { return Says{Carry: by, Unit: unit} }

// rows are common practice among golfers of each language, no source. Words with a
// letter off are long ones.
var rows = []row{
	// English
	bent("en", draw, "draw | Draw | DRAW | a draw | draws | small draw | slight draw | little draw"),
	bent("en", draw.by(8, ""), "draw 8 | Draw 8 | 8 draw"),
	bent("en", draw.by(8, "yd"), "8 yd draw | draw 8 yd | draw 8yds | 8 yard draw | 8-yard draw | draw of 8 yards | Draw, 8 yards"),
	bent("en", draw.by(8, "m"), "Draw 8m | 8 m draw | draw 8 metres | draw 8 meters"),
	bent("en", draw.by(7.5, "m"), "draw 7.5 m | draw 7,5 m"),
	bent("en", fade, "fade | Fade | FADE | fades | a fade | slight fade | small fade"),
	bent("en", fade.by(5, ""), "fade 5 | Fade 5"),
	bent("en", fade.by(5, "yd"), "fade 5 yd | 5 yard fade | fade of 5 yards | 5yd fade"),
	rare(bent("en", fade, "cut | baby fade | little cut")),
	shot("en", straight, "straight | Straight | straight ball | dead straight | straigt | straigth"),
	shot("en", startLeft, "start left | starts left | start it left | Start Left | starting left"),
	shot("en", startRight, "start right | starts right | starting right"),
	shot("en", Says{Start: 1, StartBy: 3}, "start 3 right | start right 3 | start 3° right | start 3 deg right | start 3 degrees right | 3° right start"),
	shot("en", Says{Start: 1, StartBy: 2.5}, "start 2.5 right | start 2,5 right"),
	rare(shot("en", Says{Start: -1, StartBy: 2}, "start line 2 left | start direction 2 left | launch 2 left")),
	shot("en", round, "start 3 right, curve 8 left | start 3 right curve 8 left | curve 8 left, start 3 right | Start 3 Right / Curve 8 Left | START 3 RIGHT, CURVE 8 LEFT | start 3 right; curve 8 left | start right 3, curve left 8 | start 3 right and curve 8 left"),
	shot("en", round.in("yd"), "start 3° right, curve 8 yd left | start 3 deg right, curve 8 yards left"),
	shot("en", round.in("m"), "start 3 right, curve 8m left"),
	rare(shot("en", round, "start 3R curve 8L | start 3r, curve 8l")),
	shot("en", Says{Start: 1, Curve: -1}, "start right, curve left | starts right and curves left | start right curve left"),
	shot("en", Says{Curve: -1}, "curve left | curves left | curve to the left"),
	shot("en", Says{Curve: 1, CurveBy: 8, Unit: "yd"}, "curve 8 yd right | curve right 8 yards | curves 8 yards right"),
	rare(shot("en", Says{Curve: -1}, "right to left | bend it left")),
	shot("en", low, "low | Low | low ball | keep it low | hit it low | low shot | low ball flight"),
	rare(shot("en", low, "punch | knockdown | stinger")),
	shot("en", high, "high | High | high ball | hit it high | high shot | HIGH"),
	shot("en", short, "short | Short | short shot | hit it short"),
	shot("en", apex(20, "yd"), "apex 20 yd | apex 20 yards | 20 yd apex | Apex 20yd | apex of 20 yards"),
	shot("en", apex(20, ""), "apex 20"),
	shot("en", apex(60, "ft"), "apex 60 ft | apex 60 feet"),
	shot("en", apex(18, "m"), "apex 18 m | apex 18m"),
	rare(shot("en", apex(20, "yd"), "peak height 20 yd | max height 20 yards | height 20 yd")),
	shot("en", carry(140, ""), "carry 140 | Carry 140 | 140 carry"),
	shot("en", carry(140, "yd"), "carry 140 yd | 140 yd carry | carry 140 yards | carry of 140 yards"),
	shot("en", carry(128, "m"), "carry 128m | carry 128 metres"),
	bent("en", lowDraw, "low draw | Low Draw | draw low | draw, low | low and draw"),
	bent("en", highFade, "high fade | fade high | HIGH FADE"),
	bent("en", highDraw, "high draw"),
	bent("en", lowFade.by(5, "yd"), "low fade 5 yd | low 5 yd fade"),
	bent("en", Says{Curve: -1, CurveBy: 5, Apex: 30, Unit: "yd"}, "draw 5 yd, apex 30 yd"),
	shot("en", Says{Height: -1, Carry: 140, Unit: "yd"}, "low, carry 140 yd"),
	shot("en", Says{Straight: true, Height: 1}, "high and straight | straight, high"),
	label("en", "normal | my normal swing | strong grip | weak grip | ball forward | ball back in stance | warm up | baseline | 7 iron | set A | test 1 | wide stance | after the lesson | range mat | new ball"),
	ask("en", "right | left | 3 right | curve 8 | start 3 | draw and fade | draw or fade | low high | start 3 right, start 2 left | straight draw | start right, curve"),
	{lang: "en", means: MustAsk, texts: "draw 8 right | draw, curves right | fade 5 left", only: "right"},
	{lang: "en", means: AShot, says: Says{Curve: 1, CurveBy: 8}, texts: "draw 8 right", only: "left"},
	{lang: "en", means: MustAsk, texts: "draw 8 left", only: "left"},
	{lang: "en", means: AShot, says: Says{Curve: -1, CurveBy: 8}, texts: "draw 8 left", only: "right"},
	trap("en", Plain, "low handle | high handle | high tee | low tee | short backswing | straight left arm | high hands | low hands | right foot back | left hand only | start slow | short thumb | low point forward | straight takeaway | starting position"),
	trap("en", NoShot, "tee it high | no draw | not a draw | no fade | high spin ball | low spin balls | short irons | short game | left to right wind | draw bias driver | carry on | drawing | draw swing | draw setup | fade grip | high launch"),
	trap("en", MustAsk, "draw drill | fade drill"),

	// German
	bent("de", draw, "Draw | leichter Draw | kleiner Draw"),
	bent("de", draw.by(8, "m"), "Draw 8m | 8 m Draw | Draw 8 Meter | Draw mit 8 m | Draw von 8 m"),
	bent("de", draw.by(7.5, "m"), "Draw 7,5 m"),
	bent("de", fade, "Fade | leichter Fade"),
	bent("de", fade.by(5, "m"), "5 m Fade | Fade 5 m"),
	shot("de", straight, "gerade | Gerade | gerader Schlag | gerader Ball | schnurgerade"),
	shot("de", startLeft, "Start links | links starten | startet links | starte links"),
	shot("de", startRight, "Start rechts | rechts starten"),
	shot("de", round, "starte 3 rechts, Kurve 8 links | Start 3 rechts, Kurve 8 links | 3 rechts starten, 8 links Kurve"),
	shot("de", round.in("m"), "Start 3° rechts, Kurve 8 m links | starte 3 Grad rechts, Kurve 8 Meter links"),
	shot("de", Says{Curve: -1, CurveBy: 8, Unit: "m"}, "Kurve 8 m links | Kurve links 8 m | Linkskurve 8 m"),
	rare(shot("de", Says{Curve: 1}, "Rechtskurve | Kurve nach rechts")),
	shot("de", low, "flach | tief | flacher Ball | flacher Schlag | tiefer Ball"),
	shot("de", high, "hoch | hoher Ball | hoher Schlag"),
	shot("de", short, "kurz | kurzer Schlag"),
	shot("de", apex(25, "m"), "Apex 25 m | Höhe 25 m | Scheitelhöhe 25 m | Hoehe 25 m"),
	shot("de", carry(140, "m"), "Carry 140 m | 140 m Carry"),
	rare(shot("de", carry(140, "m"), "Flugweite 140 m | Fluglänge 140 m")),
	bent("de", lowDraw, "flacher Draw | tiefer Draw"),
	bent("de", highFade, "hoher Fade | Fade hoch"),
	label("de", "normal | starker Griff | Ball vorne | Aufwärmen | neuer Griff"),
	ask("de", "rechts | links | Kurve 8 | Draw und Fade"),
	trap("de", Plain, "hohes Tee | kurzer Rückschwung | linker Arm gerade | hohe Hände | flache Ebene | rechter Fuß zurück"),
	trap("de", NoShot, "kein Draw | kurze Eisen"),
	trap("de", MustAsk, "Draw-Übung | Draw üben"),

	// French: droit is straight and droite right.
	bent("fr", draw, "draw | léger draw | petit draw | en draw"),
	bent("fr", draw.by(8, "m"), "draw 8 m | draw de 8 m | draw de 8 mètres"),
	bent("fr", fade.by(5, "m"), "fade 5m | fade de 5 metres"),
	bent("fr", fade, "fade | léger fade"),
	shot("fr", straight, "droit | tout droit | balle droite | coup droit"),
	shot("fr", startRight, "départ à droite | départ droite | depart a droite | partir à droite"),
	shot("fr", startLeft, "départ à gauche | départ gauche"),
	shot("fr", round.in("m"), "départ 3° à droite, courbe 8 m à gauche | départ 3 degrés droite, courbe 8 m gauche"),
	shot("fr", round, "départ 3 à droite, courbe 8 à gauche"),
	shot("fr", low, "bas | balle basse | coup bas"),
	shot("fr", high, "haut | balle haute | coup haut"),
	shot("fr", short, "court | balle courte"),
	shot("fr", apex(25, "m"), "apex 25 m | hauteur 25 m"),
	rare(shot("fr", apex(25, "m"), "flèche 25 m")),
	shot("fr", carry(140, "m"), "carry 140 m | portée 140 m"),
	bent("fr", lowDraw, "draw bas"),
	bent("fr", highFade, "fade haut"),
	label("fr", "normal | grip fort | balle en avant | échauffement"),
	ask("fr", "droite | à gauche | courbe 8 m"),
	trap("fr", Plain, "tee haut | bras gauche tendu | backswing court | mains basses | pied droit en arrière"),
	trap("fr", MustAsk, "exercice draw"),

	// Spanish
	bent("es", draw, "draw | pequeño draw | un draw"),
	bent("es", draw.by(8, "m"), "draw de 8 m | draw 8 metros"),
	bent("es", fade.by(5, "yd"), "fade de 5 yardas | fade 5 yardas"),
	bent("es", fade, "fade"),
	shot("es", straight, "recto | recta | bola recta | golpe recto"),
	shot("es", startRight, "salida a la derecha | salir a la derecha | empieza a la derecha"),
	shot("es", startLeft, "salida a la izquierda | salida izquierda"),
	shot("es", round, "salida 3 a la derecha, curva 8 a la izquierda | salir 3 derecha, curva 8 izquierda"),
	shot("es", round.in("m"), "salida 3° derecha, curva 8 m izquierda"),
	shot("es", low, "bajo | baja | bola baja | golpe bajo"),
	shot("es", high, "alto | alta | bola alta"),
	shot("es", short, "corto | corta | golpe corto"),
	shot("es", apex(25, "m"), "altura 25 m | ápice 25 m | apex 25 m"),
	shot("es", carry(140, "m"), "carry 140 m | vuelo 140 m"),
	bent("es", lowDraw, "draw bajo"),
	bent("es", highFade, "fade alto"),
	label("es", "normal | agarre fuerte | bola adelantada | calentamiento"),
	ask("es", "derecha | izquierda | curva 8 m"),
	trap("es", Plain, "tee alto | brazo izquierdo recto | backswing corto | manos bajas | pie derecho atrás"),

	// Italian
	bent("it", draw, "draw | leggero draw | un draw"),
	bent("it", draw.by(8, "m"), "draw di 8 m | draw 8 metri"),
	bent("it", fade, "fade | leggero fade"),
	bent("it", fade.by(5, "m"), "fade di 5 m"),
	shot("it", straight, "dritto | diritto | palla dritta | colpo dritto"),
	shot("it", startRight, "partenza a destra | partenza destra | parte a destra"),
	shot("it", startLeft, "partenza a sinistra | parte a sinistra"),
	shot("it", round, "partenza 3 a destra, curva 8 a sinistra | partenza 3 destra, curva 8 sinistra"),
	shot("it", round.in("m"), "partenza 3° a destra, curva 8 m a sinistra"),
	shot("it", low, "basso | bassa | palla bassa | colpo basso"),
	shot("it", high, "alto | alta | palla alta"),
	shot("it", short, "corto | colpo corto"),
	shot("it", apex(25, "m"), "apice 25 m | altezza 25 m | apex 25 m"),
	shot("it", carry(140, "m"), "carry 140 m | volo 140 m"),
	bent("it", lowDraw, "draw basso"),
	bent("it", highFade, "fade alto"),
	label("it", "normale | grip forte | palla avanti | riscaldamento"),
	ask("it", "destra | sinistra | curva 8 m"),
	trap("it", Plain, "tee alto | braccio sinistro dritto | backswing corto | mani basse"),

	// Swedish
	bent("sv", draw, "draw | liten draw | lätt draw"),
	bent("sv", draw.by(8, "m"), "draw 8 m | 8 m draw | draw 8 meter"),
	bent("sv", fade, "fade | liten fade"),
	bent("sv", fade.by(5, "m"), "fade 5m"),
	shot("sv", straight, "rak | rakt | rak boll | rakt slag"),
	shot("sv", startRight, "start höger | starta höger | starta till höger"),
	shot("sv", startLeft, "start vänster | starta vänster | starta till vänster"),
	shot("sv", round, "starta 3 höger, kurva 8 vänster | start 3 höger, kurva 8 vänster"),
	shot("sv", round.in("m"), "starta 3° höger, kurva 8 m vänster | starta 3 grader höger, skruv 8 m vänster"),
	shot("sv", low, "låg | lågt | låg boll"),
	shot("sv", high, "hög | högt | hög boll"),
	shot("sv", short, "kort | kort slag"),
	shot("sv", apex(25, "m"), "apex 25 m | höjd 25 m"),
	shot("sv", carry(140, "m"), "carry 140 m | 140 m carry"),
	bent("sv", lowDraw, "låg draw"),
	bent("sv", highFade, "hög fade"),
	label("sv", "normal | starkt grepp | boll fram | uppvärmning"),
	ask("sv", "höger | vänster | kurva 8 m"),
	trap("sv", Plain, "hög tee | rak vänsterarm | kort baksving | låga händer"),

	// Japanese
	bent("ja", draw, "ドロー | ドローボール | 軽いドロー"),
	bent("ja", draw.by(8, "yd"), "ドロー8ヤード | 8ヤードドロー | 8ヤードのドロー | ドロー　８ヤード"),
	bent("ja", fade, "フェード | フェードボール"),
	bent("ja", fade.by(5, "yd"), "フェード5ヤード | フェード 5yd"),
	shot("ja", straight, "ストレート | まっすぐ | 真っ直ぐ"),
	shot("ja", startRight, "右スタート | 右に打ち出す | 打ち出し右"),
	shot("ja", startLeft, "左スタート | 左に打ち出す"),
	shot("ja", round.in("yd"), "右に3度打ち出し、左に8ヤード曲げる | 打ち出し右3度、曲がり左8ヤード"),
	shot("ja", Says{Curve: -1}, "左に曲げる | 左へ曲げる"),
	shot("ja", low, "低い球 | 低め | 低く"),
	shot("ja", high, "高い球 | 高め | 高く"),
	shot("ja", short, "短め | 短く"),
	shot("ja", apex(25, "m"), "高さ25m | 最高到達点25m | 頂点25m"),
	shot("ja", carry(140, "yd"), "キャリー140ヤード | キャリー 140 yd"),
	shot("ja", carry(140, ""), "キャリー140"),
	bent("ja", lowDraw, "低いドロー | 低めのドロー"),
	bent("ja", highFade, "高いフェード | 高めのフェード"),
	label("ja", "普通 | いつも通り | ストロンググリップ | ウォームアップ"),
	ask("ja", "右 | 左 | 曲がり8ヤード"),
	trap("ja", Plain, "高いティー | 左腕まっすぐ | 短いバックスイング | 右足を引く"),
	trap("ja", MustAsk, "ドロー練習"),

	// Korean
	bent("ko", draw, "드로우 | 드로 | 약한 드로우"),
	bent("ko", draw.by(8, "yd"), "드로우 8야드 | 8야드 드로우"),
	bent("ko", draw.by(8, "m"), "드로우 8미터 | 드로우 8m"),
	bent("ko", fade, "페이드 | 약한 페이드"),
	bent("ko", fade.by(5, "yd"), "페이드 5야드"),
	shot("ko", straight, "스트레이트 | 똑바로 | 직선"),
	shot("ko", startRight, "오른쪽 출발 | 오른쪽으로 출발"),
	shot("ko", startLeft, "왼쪽 출발 | 왼쪽으로 출발"),
	shot("ko", round.in("yd"), "오른쪽 3도 출발, 왼쪽 8야드 휘게 | 출발 오른쪽 3도, 커브 왼쪽 8야드"),
	shot("ko", low, "낮게 | 낮은 공 | 낮은 탄도"),
	shot("ko", high, "높게 | 높은 공 | 높은 탄도"),
	shot("ko", short, "짧게"),
	shot("ko", apex(25, "m"), "최고점 25m | 정점 25m | 높이 25미터"),
	shot("ko", carry(140, "m"), "캐리 140미터 | 캐리 140m"),
	shot("ko", carry(140, ""), "캐리 140"),
	bent("ko", lowDraw, "낮은 드로우"),
	bent("ko", highFade, "높은 페이드"),
	label("ko", "보통 | 평소대로 | 스트롱 그립 | 워밍업"),
	ask("ko", "오른쪽 | 왼쪽 | 커브 8야드"),
	trap("ko", Plain, "높은 티 | 왼팔 펴기 | 짧은 백스윙"),
	trap("ko", MustAsk, "드로우 연습"),

	// What is no word of any language.
	label("", "1 | A | ? | -"),
	trap("", NoShot, "8 m | 150 yd"),
}
