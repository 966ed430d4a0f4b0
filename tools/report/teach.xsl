<?xml version="1.0" encoding="UTF-8"?>
<!-- SPDX-License-Identifier: GPL-3.0-or-later -->
<!-- The instructor's page: each lesson with a question first, what was done, what happened, why, and what to do instead. -->
<xsl:stylesheet version="1.0" xmlns:xsl="http://www.w3.org/1999/XSL/Transform">
  <xsl:output method="html" encoding="UTF-8" indent="no"/>
  <xsl:strip-space elements="page run lesson"/>
  <xsl:include href="parts.xsl"/>
  <xsl:include href="pictures.xsl"/>
  <xsl:include href="drill.xsl"/>
  <xsl:include href="run.xsl"/>

  <xsl:template match="/page">
    <html lang="en">
      <xsl:call-template name="head"><xsl:with-param name="title">What goes wrong on the ramp, and what to do instead</xsl:with-param></xsl:call-template>
      <body class="teach">
        <a class="skip" href="#main">Skip to the lessons</a>
        <header>
          <h1>What goes wrong on the ramp, and what to do instead</h1>
          <p class="lead"><xsl:value-of select="count(lesson)"/> lessons. In each one thing is done wrong: predict what will happen, then look, then see the same with that one thing put right.</p>
          <xsl:call-template name="units"/>
          <nav aria-label="Lessons"><ol class="lessons"><xsl:for-each select="lesson"><li><a href="#lesson-{@number}"><xsl:value-of select="run[1]/@title"/></a></li></xsl:for-each></ol></nav>
        </header>
        <main id="main" tabindex="-1">
          <section id="player" aria-label="The runs, to play"></section>
          <xsl:apply-templates select="lesson"/>
          <xsl:call-template name="cautions"/>
          <section id="given" aria-labelledby="given-title"><h2 id="given-title">To make this page again</h2><p><code><xsl:value-of select="command"/></code> with drawdock <xsl:value-of select="@version"/></p>
          <p class="note">Boats, trailers, vehicles and ramps are invented. Each lesson is computed by the same equations as any other run.</p></section>
        </main>
        <footer><p>Made by drawdock <xsl:value-of select="@version"/>. Practise on an empty car park first; makers' plates, local law, ramp signs and licensed practice govern.</p></footer>
        <xsl:call-template name="drawings"/>
      </body>
    </html>
  </xsl:template>

  <xsl:template match="lesson">
    <xsl:variable name="wrong" select="run[1]"/>
    <xsl:variable name="right" select="run[2]"/>
    <article class="lesson" id="lesson-{@number}" aria-labelledby="lesson-{@number}-title" data-run="{$wrong/@name}">
      <h2 id="lesson-{@number}-title"><xsl:value-of select="@number"/>. <xsl:value-of select="$wrong/@title"/></h2>
      <h3>What was done</h3>
      <ol class="done"><xsl:for-each select="$wrong/drill/step"><li><xsl:apply-templates select="."/></li></xsl:for-each></ol>
      <xsl:if test="$wrong/keys != ''"><details><summary>As the scenario has it</summary><pre tabindex="0"><xsl:value-of select="$wrong/keys"/></pre></details></xsl:if>
      <fieldset class="quiz"><legend>Predict: how does it end?</legend>
        <xsl:for-each select="choice"><label><input type="radio" name="quiz-{../@number}" value="{.}"/><xsl:text> </xsl:text><xsl:value-of select="."/></label></xsl:for-each>
      </fieldset>
      <details class="reveal"><summary>Then look: what happened, and why</summary>
        <p><xsl:value-of select="concat(substring-before(concat($wrong/said, ' Our own invention.'), ' Our own invention.'), '')"/></p>
        <xsl:for-each select="$wrong"><xsl:call-template name="verdict-line"/></xsl:for-each>
        <xsl:call-template name="last-view"><xsl:with-param name="run" select="$wrong"/></xsl:call-template>
      </details>
      <details class="reveal"><summary>What to do instead</summary>
        <p><strong><xsl:value-of select="$right/@title"/>.</strong><xsl:text> </xsl:text><xsl:value-of select="$right/said"/></p>
        <p>The one thing that differs:</p><pre tabindex="0"><xsl:value-of select="$right/differs"/></pre>
        <xsl:for-each select="$right"><xsl:call-template name="verdict-line"/></xsl:for-each>
        <xsl:call-template name="last-view"><xsl:with-param name="run" select="$right"/></xsl:call-template>
      </details>
    </article>
  </xsl:template>

  <!-- How it ended; the player has the way there. Two views of every run would take the page past 2 MB. -->
  <xsl:template name="last-view">
    <xsl:param name="run"/>
    <div class="stills"><xsl:apply-templates select="$run/views/view[last()]"/></div>
  </xsl:template>
</xsl:stylesheet>
