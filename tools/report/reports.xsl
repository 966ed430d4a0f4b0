<?xml version="1.0" encoding="UTF-8"?>
<!-- SPDX-License-Identifier: GPL-3.0-or-later -->
<!-- Ramp, weights, supports and brakes: each study's report. -->
<xsl:stylesheet version="1.0" xmlns:xsl="http://www.w3.org/1999/XSL/Transform">

  <xsl:template match="report">
    <p class="answer {@kind}"><xsl:call-template name="verdict"><xsl:with-param name="kind" select="@kind"/><xsl:with-param name="word" select="@word"/></xsl:call-template>
      <xsl:text>. </xsl:text><xsl:apply-templates select="headline" mode="q"/><xsl:text> </xsl:text><xsl:apply-templates select="sentence" mode="q"/></p>
    <xsl:apply-templates select="table[@brief = '1' or @brief = '2']"/>
    <xsl:if test="note"><ul class="notes"><xsl:for-each select="note"><li><xsl:apply-templates select="." mode="q"/></li></xsl:for-each></ul></xsl:if>
    <xsl:call-template name="limits"><xsl:with-param name="rows" select="check[@outcome != 'not checked']"/><xsl:with-param name="title">Limits, tightest first</xsl:with-param></xsl:call-template>
    <xsl:if test="check[@outcome = 'not checked']"><p class="note"><strong>Not checked:</strong><xsl:text> </xsl:text><xsl:for-each select="check[@outcome = 'not checked']"><xsl:if test="position() &gt; 1">; </xsl:if><xsl:apply-templates select="name" mode="q"/></xsl:for-each>.</p></xsl:if>
    <xsl:if test="../picture"><details><summary>Pictures</summary><div class="pictures"><xsl:apply-templates select="../picture"/></div></details></xsl:if>
    <!-- Nor are these for reading here: the pictures show them. -->
    <xsl:variable name="more" select="table[@brief = '0'][not(contains(' band rollers distances contacts travel restraint_supports bending holding_chart days ', concat(' ', @key, ' ')))]"/>
    <xsl:if test="$more"><details><summary>Further tables</summary><xsl:apply-templates select="$more"/></details></xsl:if>
  </xsl:template>

  <xsl:template match="part">
    <section id="{@study}" aria-labelledby="{@study}-title">
      <h2 id="{@study}-title"><xsl:choose>
        <xsl:when test="@study = 'depth'">The ramp: where to stand, and from which level on</xsl:when>
        <xsl:when test="@study = 'weigh'">What it weighs, against ratings and rules</xsl:when>
        <xsl:when test="@study = 'seat'">What the supports carry</xsl:when>
        <xsl:when test="@study = 'brake'">Does it stop, hold and reverse?</xsl:when>
      </xsl:choose></h2>
      <xsl:for-each select="entry">
        <xsl:if test="count(/page/run) &gt; 1"><h3>For <xsl:for-each select="for"><xsl:if test="position() &gt; 1">, </xsl:if><xsl:value-of select="."/></xsl:for-each></h3></xsl:if>
        <xsl:choose>
          <xsl:when test="missing"><p class="missing">Not computed: <xsl:value-of select="missing"/></p></xsl:when>
          <xsl:otherwise><xsl:apply-templates select="report"/></xsl:otherwise>
        </xsl:choose>
      </xsl:for-each>
    </section>
  </xsl:template>

  <xsl:template match="windows">
    <section id="windows" aria-labelledby="windows-title">
      <h2 id="windows-title">When the ramp can be used</h2>
      <xsl:choose>
        <xsl:when test="missing"><p class="missing"><xsl:value-of select="missing"/></p></xsl:when>
        <xsl:otherwise><xsl:apply-templates select="report"/></xsl:otherwise>
      </xsl:choose>
    </section>
  </xsl:template>
</xsl:stylesheet>
