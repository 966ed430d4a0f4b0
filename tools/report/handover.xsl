<?xml version="1.0" encoding="UTF-8"?>
<!-- SPDX-License-Identifier: GPL-3.0-or-later -->
<!-- The page that leaves with the rig: verdict, why, marks, drill, margins, weights, supports, brakes, hours, inputs, cautions. -->
<xsl:stylesheet version="1.0" xmlns:xsl="http://www.w3.org/1999/XSL/Transform">
  <xsl:output method="html" encoding="UTF-8" indent="no"/>
  <xsl:strip-space elements="page run part entry report table row"/>
  <xsl:include href="parts.xsl"/>
  <xsl:include href="pictures.xsl"/>
  <xsl:include href="drill.xsl"/>
  <xsl:include href="run.xsl"/>
  <xsl:include href="reports.xsl"/>
  <xsl:key name="source" match="source" use="."/>
  <xsl:key name="assumed" match="assumed" use="."/>
  <xsl:key name="unchecked" match="unchecked" use="."/>

  <xsl:template match="/page">
    <xsl:variable name="runs" select="run[not(missing)]"/>
    <html lang="en">
      <xsl:call-template name="head"><xsl:with-param name="title" select="concat(run[1]/@title, ' - the rig and its ramp')"/></xsl:call-template>
      <body>
        <a class="skip" href="#main">Skip to the verdict</a>
        <header>
          <h1><xsl:choose><xsl:when test="count(run) &gt; 3"><xsl:value-of select="count(run)"/> runs side by side</xsl:when><xsl:otherwise><xsl:for-each select="run"><xsl:if test="position() &gt; 1">; </xsl:if><xsl:value-of select="@title"/></xsl:for-each></xsl:otherwise></xsl:choose></h1>
          <p class="lead">The rig on its ramp, as computed from the figures given</p>
          <xsl:call-template name="units"/>
          <nav aria-label="On this page"><ul>
            <li><a href="#main">Verdict</a></li>
            <xsl:for-each select="$runs"><li><a href="#run-{@number}"><xsl:value-of select="@name"/></a></li></xsl:for-each>
            <li><a href="#depth">Ramp</a></li><li><a href="#weigh">Weights</a></li><li><a href="#seat">Supports</a></li><li><a href="#brake">Brakes</a></li><li><a href="#windows">Hours</a></li><li><a href="#cautions">Take care</a></li><li><a href="#given">Figures given</a></li>
          </ul></nav>
        </header>
        <main id="main" tabindex="-1">
          <section id="verdict" aria-labelledby="verdict-title">
            <h2 id="verdict-title">Verdict</h2>
            <xsl:call-template name="overall"/>
          </section>
          <section id="player" aria-label="Side views"><xsl:apply-templates select="$runs/views"/><xsl:if test="not($runs/views)"><p class="missing">No side view: nothing is launched or retrieved on this page.</p></xsl:if></section>
          <div id="runs"><xsl:apply-templates select="run"/></div>
          <xsl:apply-templates select="part"/>
          <xsl:apply-templates select="windows"/>
          <xsl:if test="@pictures = 'no'"><p class="missing">This page has no pictures of histories: they were not wanted, or gnuplot was not installed when it was made.</p></xsl:if>
          <xsl:if test="@dropped"><p class="missing">Some pictures are left out to keep this page small enough to send; run, depth, seat and brake draw all of them.</p></xsl:if>
          <xsl:call-template name="cautions"/>
          <xsl:call-template name="given"/>
        </main>
        <footer><p>Made by drawdock <xsl:value-of select="@version"/>. A verdict says "within the limits given" and no more: makers' plates, local law, ramp signs and licensed practice govern.</p></footer>
        <xsl:call-template name="drawings"/>
      </body>
    </html>
  </xsl:template>

  <!-- The worst first, in one sentence with its reason; then what the other questions gave. -->
  <xsl:template name="overall">
    <xsl:variable name="bad" select="run[@kind and @kind != 'within'] | part/entry/report[@kind = 'broken'] | windows/report[@kind = 'broken']"/>
    <xsl:for-each select="$bad[1] | (run[@kind] | part/entry/report)[not($bad)][1]">
      <xsl:call-template name="verdict-line"><xsl:with-param name="of"><xsl:choose>
        <xsl:when test="self::report and @study"><xsl:call-template name="capital"><xsl:with-param name="text" select="@study"/></xsl:call-template></xsl:when>
        <xsl:when test="count(/page/run) &gt; 1"><xsl:call-template name="capital"><xsl:with-param name="text" select="@name"/></xsl:call-template></xsl:when>
      </xsl:choose></xsl:with-param></xsl:call-template>
      <xsl:if test="count($bad) &gt; 1"><p>And <xsl:value-of select="count($bad) - 1"/> more of the answers below <xsl:choose><xsl:when test="count($bad) = 2">is</xsl:when><xsl:otherwise>are</xsl:otherwise></xsl:choose> not within the limits.</p></xsl:if>
    </xsl:for-each>
    <xsl:for-each select="part[entry/report/@kind = 'unchecked']"><p><strong><xsl:call-template name="question"/></strong><xsl:text> is open: </xsl:text><xsl:value-of select="entry/report[@kind = 'unchecked'][1]/@word"/>.</p></xsl:for-each>
    <div class="scroll" tabindex="0" role="group" aria-label="Every question and its answer"><table class="answers"><caption>Every question and its answer</caption>
      <thead><tr><th scope="col">question</th><th scope="col">answer</th><th scope="col">why</th></tr></thead>
      <tbody>
        <xsl:for-each select="run"><tr><th scope="row"><a href="#run-{@number}"><xsl:value-of select="@name"/></a></th>
          <xsl:choose><xsl:when test="missing"><td>not computed</td><td><xsl:value-of select="missing"/></td></xsl:when>
            <xsl:otherwise><td><xsl:call-template name="verdict"><xsl:with-param name="kind" select="@kind"/><xsl:with-param name="word" select="@word"/></xsl:call-template></td><td><xsl:apply-templates select="sentence" mode="q"/></td></xsl:otherwise></xsl:choose></tr></xsl:for-each>
        <xsl:for-each select="part/entry"><tr><th scope="row"><a href="#{../@study}"><xsl:for-each select=".."><xsl:call-template name="question"/></xsl:for-each></a><xsl:if test="count(../entry) &gt; 1"> (<xsl:for-each select="for"><xsl:if test="position() &gt; 1">, </xsl:if><xsl:value-of select="."/></xsl:for-each>)</xsl:if></th>
          <xsl:choose><xsl:when test="missing"><td>not computed</td><td><xsl:value-of select="missing"/></td></xsl:when>
            <xsl:otherwise><td><xsl:call-template name="verdict"><xsl:with-param name="kind" select="report/@kind"/><xsl:with-param name="word" select="report/@word"/></xsl:call-template></td><td><xsl:apply-templates select="report/headline" mode="q"/><xsl:text> </xsl:text><xsl:apply-templates select="report/sentence" mode="q"/></td></xsl:otherwise></xsl:choose></tr></xsl:for-each>
      </tbody></table></div>
  </xsl:template>

  <!-- What a part of the page answers, in a few words. -->
  <xsl:template name="question">
    <xsl:choose><xsl:when test="@study = 'depth'">Is the ramp deep enough?</xsl:when><xsl:when test="@study = 'weigh'">Is it within its ratings?</xsl:when><xsl:when test="@study = 'seat'">Does the trailer carry this hull?</xsl:when><xsl:otherwise>Does it stop and hold?</xsl:otherwise></xsl:choose>
  </xsl:template>

  <xsl:template name="given">
    <section id="given" aria-labelledby="given-title">
      <h2 id="given-title">Figures given, assumed and not checked</h2>
      <h3>Assumed</h3>
      <xsl:variable name="assumed" select="//assumed[generate-id() = generate-id(key('assumed', .)[1])]"/>
      <xsl:choose><xsl:when test="$assumed"><p>These the scenario does not give. Measure what you can.</p><ul><xsl:for-each select="$assumed"><li><xsl:apply-templates select="." mode="q"/></li></xsl:for-each></ul></xsl:when><xsl:otherwise><p>Nothing.</p></xsl:otherwise></xsl:choose>
      <h3>Not checked</h3>
      <xsl:variable name="unchecked" select="//unchecked[generate-id() = generate-id(key('unchecked', .)[1])]"/>
      <ul><xsl:for-each select="$unchecked"><li><xsl:apply-templates select="." mode="q"/></li></xsl:for-each>
        <xsl:for-each select="part[.//check[@outcome = 'not checked']]"><li><a href="#{@study}"><xsl:value-of select="@study"/></a>: <xsl:for-each select="entry[1]/report/check[@outcome = 'not checked']"><xsl:if test="position() &gt; 1">; </xsl:if><xsl:value-of select="name"/></xsl:for-each></li></xsl:for-each></ul>
      <xsl:for-each select="run"><details><summary>Every figure of <xsl:value-of select="@name"/>, with its source (<xsl:value-of select="@file"/>)</summary><pre tabindex="0"><xsl:value-of select="input"/></pre></details></xsl:for-each>
      <h3>Sources</h3>
      <ul><xsl:for-each select="//source[not(parent::check or parent::margin)][generate-id() = generate-id(key('source', .)[not(parent::check or parent::margin)][1])]"><li><xsl:value-of select="."/></li></xsl:for-each></ul>
      <h3>To make this page again</h3>
      <p><code><xsl:value-of select="command"/></code> with drawdock <xsl:value-of select="@version"/></p>
    </section>
  </xsl:template>
</xsl:stylesheet>
