<?xml version="1.0" encoding="UTF-8"?>
<!-- SPDX-License-Identifier: GPL-3.0-or-later -->
<!-- One launch or retrieve. -->
<xsl:stylesheet version="1.0" xmlns:xsl="http://www.w3.org/1999/XSL/Transform">

  <xsl:template name="verdict-line">
    <xsl:param name="of"/>
    <p class="answer {@kind}"><xsl:if test="$of != ''"><xsl:value-of select="$of"/>: </xsl:if><xsl:call-template name="verdict"><xsl:with-param name="kind" select="@kind"/><xsl:with-param name="word" select="@word"/></xsl:call-template><xsl:text>: </xsl:text>
      <xsl:choose><xsl:when test="@kind = 'within'">within the limits given. </xsl:when><xsl:when test="@kind = 'broken'">a limit is broken. </xsl:when><xsl:when test="@kind = 'failed'">it fails. </xsl:when><xsl:otherwise>incomplete, no verdict. </xsl:otherwise></xsl:choose>
      <xsl:apply-templates select="sentence" mode="q"/>
      <xsl:if test="failure"><xsl:text> </xsl:text><xsl:value-of select="failure"/></xsl:if></p>
  </xsl:template>

  <xsl:template name="marks">
    <h3>Marks on the trailer</h3>
    <xsl:choose>
      <xsl:when test="marks/place[@name = 'best']">
        <xsl:variable name="best" select="marks/place[@name = 'best']"/>
        <p>Put the mark on the mudguard <strong><xsl:apply-templates select="$best/hub" mode="q"/></strong> above the middle of the hub, measured with the boat on and the rig on level ground: when the water stands there, the rig stands right for this ramp's slope.
        The water then stands <xsl:apply-templates select="$best/support" mode="q"/> over the rearmost support<xsl:if test="$best/tyre != ''"> and at <xsl:apply-templates select="$best/tyre" mode="q"/> on the vehicle's rear tyres (below zero: dry)</xsl:if>.</p>
        <div class="scroll" tabindex="0" role="group" aria-label="Where the water may stand">
          <table><caption>Where the water may stand to <xsl:value-of select="@action"/></caption>
            <thead><tr><th scope="col">place</th><th scope="col" class="number">over the hub (mudguard)</th><th scope="col" class="number">over the rear support</th><th scope="col" class="number">up the trailer's wheel</th><th scope="col" class="number">at the vehicle's tyre</th><th scope="col">what ends it</th></tr></thead>
            <tbody><xsl:for-each select="marks/place"><tr><xsl:if test="@name = 'best'"><xsl:attribute name="class">best</xsl:attribute></xsl:if>
              <th scope="row"><xsl:choose><xsl:when test="@name = 'least'">shallowest</xsl:when><xsl:when test="@name = 'most'">deepest</xsl:when><xsl:when test="@name = 'best'">the mark</xsl:when><xsl:otherwise><xsl:value-of select="@name"/></xsl:otherwise></xsl:choose></th>
              <td class="number"><xsl:apply-templates select="hub" mode="q"/></td><td class="number"><xsl:apply-templates select="support" mode="q"/></td><td class="number"><xsl:apply-templates select="wheel" mode="q"/></td><td class="number"><xsl:apply-templates select="tyre" mode="q"/></td><td><xsl:value-of select="@ends"/></td></tr></xsl:for-each></tbody></table>
        </div>
      </xsl:when>
      <xsl:when test="marks"><p>There is no place on this ramp at this level where the rig keeps every limit, so there is no mark to put; <a href="#depth">the ramp's answer</a> says what binds.</p></xsl:when>
      <xsl:otherwise><p>No marks: <xsl:value-of select="/page/part[@study = 'depth']/entry[for/@run = current()/@number]/missing"/></p></xsl:otherwise>
    </xsl:choose>
  </xsl:template>

  <xsl:template match="run">
    <article class="run" id="run-{@number}" aria-labelledby="run-{@number}-title" data-run="{@name}">
      <h2 id="run-{@number}-title"><xsl:choose><xsl:when test="@action = 'launch'">Launch</xsl:when><xsl:when test="@action = 'retrieve'">Retrieve</xsl:when><xsl:otherwise>Rig</xsl:otherwise></xsl:choose>: <xsl:value-of select="@title"/></h2>
      <xsl:choose>
        <xsl:when test="missing"><p><xsl:value-of select="missing"/></p></xsl:when>
        <xsl:otherwise>
          <xsl:if test="count(/page/run) &gt; 1"><xsl:call-template name="verdict-line"/></xsl:if>
          <xsl:call-template name="marks"/>
          <h3>The drill, step by step</h3>
          <xsl:apply-templates select="drill"/>
          <h3>How near the limits</h3>
          <xsl:call-template name="limits"><xsl:with-param name="rows" select="margin"/><xsl:with-param name="title" select="concat('Limits of this ', @action, ', tightest first')"/></xsl:call-template>
          <h3>What happened when</h3>
          <div class="scroll" tabindex="0" role="group" aria-label="Events"><table><caption>Events</caption>
            <thead><tr><th scope="col" class="number">mark</th><th scope="col" class="number">time</th><th scope="col">event</th><th scope="col" class="number">water over hub</th><th scope="col">where, how much</th></tr></thead>
            <tbody><xsl:for-each select="event"><tr><td class="number"><xsl:value-of select="@mark"/></td><td class="number"><xsl:apply-templates select="time" mode="q"/></td><th scope="row"><xsl:value-of select="@name"/></th><td class="number"><xsl:apply-templates select="hub" mode="q"/></td><td><xsl:apply-templates select="detail" mode="q"/></td></tr></xsl:for-each></tbody></table></div>
          <xsl:if test="event[@name = 'not held upright']"><p class="note"><strong>Take care:</strong> for a while neither the water nor the supports hold this boat upright. In calm water and on its centre line it stays so by balance alone; a gust, a wave or a person who steps aboard may heel it over until it leans on something. Keep lines on both sides of it, nobody aboard or beside it, or carry its weight lower.</p></xsl:if>
          <xsl:if test="picture"><details><summary>Histories as pictures</summary><div class="pictures"><xsl:apply-templates select="picture"/></div></details></xsl:if>
          <xsl:if test="figure"><details><summary>Further figures of this run</summary>
            <div class="scroll" tabindex="0" role="group" aria-label="Further figures"><table><caption>Further figures</caption><thead><tr><th scope="col">of</th><th scope="col">figure</th><th scope="col" class="number">value</th><th scope="col">remark</th></tr></thead>
            <tbody><xsl:for-each select="figure"><tr><td><xsl:value-of select="@group"/></td><th scope="row"><xsl:value-of select="name"/></th><td class="number"><xsl:apply-templates select="value" mode="q"/></td><td><xsl:apply-templates select="words" mode="q"/></td></tr></xsl:for-each></tbody></table></div></details></xsl:if>
        </xsl:otherwise>
      </xsl:choose>
    </article>
  </xsl:template>
</xsl:stylesheet>
