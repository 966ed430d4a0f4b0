<?xml version="1.0" encoding="UTF-8"?>
<!-- SPDX-License-Identifier: GPL-3.0-or-later -->
<!-- Quantities in both systems, limits, tables: what every page uses. -->
<xsl:stylesheet version="1.0" xmlns:xsl="http://www.w3.org/1999/XSL/Transform">

  <!-- A number or a sentence: both systems where they differ; the style shows one. -->
  <xsl:template match="*" mode="q">
    <xsl:choose>
      <xsl:when test="metric"><span class="metric"><xsl:value-of select="metric"/></span><span class="us"><xsl:value-of select="us"/></span></xsl:when>
      <xsl:otherwise><xsl:value-of select="."/></xsl:otherwise>
    </xsl:choose>
  </xsl:template>

  <!-- The same begun with a capital, for words of the program that stand alone. -->
  <xsl:template name="capital">
    <xsl:param name="text"/>
    <xsl:value-of select="concat(translate(substring($text, 1, 1), 'abcdefghijklmnopqrstuvwxyz', 'ABCDEFGHIJKLMNOPQRSTUVWXYZ'), substring($text, 2))"/>
  </xsl:template>

  <!-- The word of a verdict, with a sign so that it does not hang on a colour. -->
  <xsl:template name="verdict">
    <xsl:param name="kind"/>
    <xsl:param name="word"/>
    <strong class="verdict {$kind}">
      <span class="sign" aria-hidden="true"><xsl:choose><xsl:when test="$kind = 'within'">&#x2713;</xsl:when><xsl:when test="$kind = 'incomplete' or $kind = 'unchecked'">?</xsl:when><xsl:otherwise>&#x2717;</xsl:otherwise></xsl:choose></span>
      <xsl:text> </xsl:text>
      <xsl:call-template name="capital"><xsl:with-param name="text" select="$word"/></xsl:call-template>
    </strong>
  </xsl:template>

  <xsl:template name="outcome">
    <xsl:param name="outcome"/>
    <span class="outcome {translate($outcome, ' ', '-')}"><xsl:choose>
      <xsl:when test="$outcome = 'broken'">&#x2717; broken</xsl:when>
      <xsl:when test="$outcome = 'caution'">! take care</xsl:when>
      <xsl:when test="$outcome = 'not checked'">&#x2013; not checked</xsl:when>
      <xsl:otherwise>&#x2713; holds</xsl:otherwise>
    </xsl:choose></span>
  </xsl:template>

  <!-- A table in its own box, which scrolls where the page may not. -->
  <xsl:template match="table">
    <xsl:param name="id" select="generate-id()"/>
    <div class="scroll" tabindex="0" role="group" aria-label="{@title}">
      <table>
        <caption><xsl:value-of select="@title"/></caption>
        <thead><tr>
          <xsl:for-each select="column"><th scope="col"><xsl:if test="not(@words)"><xsl:attribute name="class">number</xsl:attribute></xsl:if>
            <xsl:if test="@help != ''"><xsl:attribute name="title"><xsl:value-of select="@help"/></xsl:attribute></xsl:if>
            <xsl:value-of select="@name"/></th></xsl:for-each>
        </tr></thead>
        <tbody>
          <xsl:for-each select="row"><tr>
            <xsl:for-each select="cell">
              <xsl:variable name="at" select="position()"/>
              <xsl:variable name="column" select="../../column[$at]"/>
              <xsl:choose>
                <xsl:when test="$at = 1"><th scope="row"><xsl:apply-templates select="." mode="q"/></th></xsl:when>
                <xsl:otherwise><td><xsl:if test="not($column/@words)"><xsl:attribute name="class">number</xsl:attribute></xsl:if><xsl:apply-templates select="." mode="q"/></td></xsl:otherwise>
              </xsl:choose>
            </xsl:for-each>
          </tr></xsl:for-each>
        </tbody>
      </table>
    </div>
    <xsl:if test="note"><p class="note"><xsl:apply-templates select="note" mode="q"/></p></xsl:if>
  </xsl:template>

  <!-- Limits: margins of a run or checks of a report, in their order, tightest first. -->
  <xsl:template name="limits">
    <xsl:param name="rows"/>
    <xsl:param name="title"/>
    <div class="scroll" tabindex="0" role="group" aria-label="{$title}">
      <table class="limits">
        <caption><xsl:value-of select="$title"/></caption>
        <thead><tr><th scope="col">limit</th><th scope="col">outcome</th><th scope="col" class="number">reached</th><th scope="col" class="number">allowed</th><th scope="col" class="number">use</th></tr></thead>
        <tbody>
          <xsl:for-each select="$rows"><tr class="{translate(@outcome, ' ', '-')}">
            <th scope="row"><xsl:apply-templates select="name" mode="q"/><xsl:if test="@state != ''"> (<xsl:value-of select="@state"/>)</xsl:if>
              <xsl:if test="(@outcome = 'broken' or @outcome = 'caution') and words"><br/><span class="why"><xsl:apply-templates select="words" mode="q"/></span></xsl:if></th>
            <td><xsl:call-template name="outcome"><xsl:with-param name="outcome" select="@outcome"/></xsl:call-template></td>
            <td class="number"><xsl:apply-templates select="value" mode="q"/></td>
            <td class="number"><xsl:if test="@least and limit != ''"><xsl:choose><xsl:when test="@least = 1">least </xsl:when><xsl:otherwise>most </xsl:otherwise></xsl:choose></xsl:if><xsl:apply-templates select="limit" mode="q"/></td>
            <td class="number"><xsl:value-of select="@use"/></td>
          </tr></xsl:for-each>
        </tbody>
      </table>
    </div>
  </xsl:template>

  <xsl:template name="head">
    <xsl:param name="title"/>
    <head>
      <meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'; script-src 'unsafe-inline'; base-uri 'none'; form-action 'none'"/>
      <meta name="viewport" content="width=device-width, initial-scale=1"/>
      <meta name="color-scheme" content="light dark"/>
      <meta name="generator" content="drawdock {/page/@version}"/>
      <title><xsl:value-of select="$title"/></title>
      <xsl:for-each select="/page/style"><style><xsl:value-of select="."/></style></xsl:for-each>
    </head>
  </xsl:template>

  <!-- Radio buttons: they work by keyboard, and without script. -->
  <xsl:template name="units">
    <fieldset class="units"><legend>Units</legend>
      <label><input type="radio" name="units" id="units-metric" value="metric"><xsl:if test="not(/page/@units = 'us')"><xsl:attribute name="checked">checked</xsl:attribute></xsl:if></input> metric</label>
      <label><input type="radio" name="units" id="units-us" value="us"><xsl:if test="/page/@units = 'us'"><xsl:attribute name="checked">checked</xsl:attribute></xsl:if></input> US</label>
    </fieldset>
  </xsl:template>

  <xsl:template name="drawings">
    <xsl:for-each select="//run[drawing]"><script type="application/json" class="drawing" data-run="{@name}"><xsl:value-of select="drawing"/></script></xsl:for-each>
    <xsl:for-each select="/page/run[result]"><script type="application/json" class="result" data-run="{@name}"><xsl:value-of select="result"/></script></xsl:for-each>
    <xsl:for-each select="/page/script"><script><xsl:value-of select="."/></script></xsl:for-each>
  </xsl:template>

  <xsl:template name="cautions">
    <section id="cautions"><h2>Take care</h2>
      <ul class="cautions"><xsl:for-each select="/page/caution"><li><strong><xsl:call-template name="capital"><xsl:with-param name="text" select="@brief"/></xsl:call-template>.</strong><xsl:text> </xsl:text><xsl:value-of select="."/></li></xsl:for-each></ul>
      <xsl:if test="//check[@outcome = 'caution']"><h3>For this rig</h3>
        <ul class="cautions"><xsl:for-each select="//check[@outcome = 'caution']"><li><strong><xsl:call-template name="capital"><xsl:with-param name="text" select="(name | name/metric)[last()]"/></xsl:call-template></strong><xsl:if test="value != ''">: <xsl:apply-templates select="value" mode="q"/>, <xsl:choose><xsl:when test="@least = 1">least </xsl:when><xsl:otherwise>most </xsl:otherwise></xsl:choose><xsl:apply-templates select="limit" mode="q"/></xsl:if>.<xsl:if test="words"><xsl:text> </xsl:text><xsl:apply-templates select="words" mode="q"/></xsl:if></li></xsl:for-each></ul></xsl:if>
    </section>
  </xsl:template>
</xsl:stylesheet>
